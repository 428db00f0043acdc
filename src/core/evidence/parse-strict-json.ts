import { deepestNesting } from "./canonical-json.ts";

/** A parsed value, or in words what is wrong with the text. */
export type StrictJson = { ok: true; value: unknown } | { ok: false; problem: string };

const token = /"(?:[^"\\]|\\.)*"|-?\d[\d.eE+-]*|[{}[\],:]/g;
const loneSurrogate = /\p{Surrogate}/u;

/**
 * Parses JSON that comes from outside, and refuses what readers of JSON understand differently: a name used twice in one
 * object, a number too large for a double, a lone surrogate, and nesting deeper than `deepestNesting`. Two programs that
 * accept the text see the same value.
 *
 * Source: RFC 7493 (I-JSON, 2015), sections 2.1 to 2.3; RFC 8785, section 3.1, which demands I-JSON of its input.
 *
 * @example
 * ```ts
 * parseStrictJson('{"a":1,"a":2}'); // { ok: false, problem: 'the name "a" appears twice in one object' }
 * ```
 */
export function parseStrictJson(text: string): StrictJson {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch (error) {
    return { ok: false, problem: `not JSON: ${(error as Error).message}` };
  }
  const problem = ambiguityIn(text);
  return problem === null ? { ok: true, value } : { ok: false, problem };
}

/** The first ambiguity in `validJson`, which JSON.parse has accepted: so that splitting it into tokens cannot go wrong. */
function ambiguityIn(validJson: string): string | null {
  /** One entry for each open bracket: the names seen in an object, null for an array. */
  const open: (Set<string> | null)[] = [];
  let expectsName = false;
  for (const [text] of validJson.matchAll(token)) {
    const inside = open.at(-1) ?? null;
    if (text === "{" || text === "[") {
      open.push(text === "{" ? new Set() : null);
      if (open.length > deepestNesting) return `nested more than ${deepestNesting} deep`;
      expectsName = text === "{";
    } else if (text === "}" || text === "]") {
      open.pop();
      expectsName = false;
    } else if (text === ",") {
      expectsName = inside !== null;
    } else if (text === ":") {
      expectsName = false;
    } else if (text.startsWith('"')) {
      const content = JSON.parse(text) as string;
      if (loneSurrogate.test(content)) return `the text ${text} has a lone surrogate, which is no Unicode`;
      if (!expectsName || inside === null) continue;
      if (inside.has(content)) return `the name ${text} appears twice in one object`;
      inside.add(content);
    } else if (!Number.isFinite(Number(text))) {
      return `the number ${text} is too large for a double`;
    }
  }
  return null;
}
