/** Deeper nesting than this is refused: no record needs it, and a hostile one must not exhaust the stack. */
export const deepestNesting = 200;

const loneSurrogate = /\p{Surrogate}/u;

/**
 * Text of `value` in the JSON Canonicalization Scheme: no white space, members in the order of their names' UTF-16 code
 * units, numbers and strings as ECMAScript prints them. Equal values give equal text on every machine, so that a hash of
 * the text is a hash of the value.
 *
 * The text is emitted from the sorted list of names: a JavaScript object rebuilt in sorted order would put names that look
 * like array indices first.
 *
 * Source: RFC 8785 (2020), sections 3.2.2 and 3.2.3. Checked: tests/core/evidence/canonical-json.test.ts.
 *
 * @throws TypeError for what JSON cannot say: undefined, functions, bigints, symbols, holes in arrays, circles, objects
 * that are not plain (dates, maps, typed arrays, class instances), and strings or names with a lone surrogate
 * @throws RangeError for NaN, infinities and nesting deeper than {@link deepestNesting}
 * @example
 * ```ts
 * canonicalJson({ b: [1e30, -0], a: "€" }); // {"a":"€","b":[1e+30,0]}
 * ```
 */
export function canonicalJson(value: unknown): string {
  return textOf(value, "$", []);
}

function textOf(value: unknown, path: string, parents: readonly object[]): string {
  if (value === null || typeof value === "boolean") return String(value);
  if (typeof value === "string") return quoted(value, path);
  if (typeof value === "number") {
    if (!Number.isFinite(value)) throw new RangeError(`${path} is ${value}; JSON holds finite numbers only`);
    return JSON.stringify(value);
  }
  if (typeof value !== "object") throw new TypeError(`${path} is ${typeof value}; JSON cannot hold it`);
  if (parents.includes(value)) throw new TypeError(`${path} contains itself`);
  if (parents.length >= deepestNesting)
    throw new RangeError(`${path.slice(0, 60)}… is nested more than ${deepestNesting} deep`);
  const trail = [...parents, value];
  if (Array.isArray(value)) {
    const items: string[] = [];
    for (let i = 0; i < value.length; i += 1) items.push(textOf(value[i], `${path}[${i}]`, trail));
    return `[${items.join(",")}]`;
  }
  const prototype = Object.getPrototypeOf(value);
  if (prototype !== Object.prototype && prototype !== null)
    throw new TypeError(
      `${path} is a ${value.constructor?.name ?? "special object"}; only plain objects are accepted`,
    );
  if (Object.getOwnPropertySymbols(value).length > 0)
    throw new TypeError(`${path} has a symbol for a name; names are strings`);
  const members = Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1));
  return `{${members
    .map(([name, member]) => `${quoted(name, path)}:${textOf(member, `${path}.${name}`, trail)}`)
    .join(",")}}`;
}

function quoted(text: string, path: string): string {
  if (loneSurrogate.test(text))
    throw new TypeError(`${path} has text with a lone surrogate, which is no Unicode`);
  return JSON.stringify(text);
}
