import { canonicalJson } from "../../src/core/evidence/canonical-json.ts";

/** A name of a field as words: `observedAt` is `observed at`. */
export function fieldWords(name: string): string {
  return name.replace(
    /([a-z])([A-Z])/g,
    (_, before: string, after: string) => `${before} ${after.toLowerCase()}`,
  );
}

/** The body of an entry, every field with its value, and the text as it is hashed. */
export function BodyFacts({ body }: { body: unknown }) {
  return (
    <>
      <Part value={body} />
      <details>
        <summary>As it is hashed (RFC 8785)</summary>
        <pre class="stored">{canonicalJson(body)}</pre>
      </details>
    </>
  );
}

function Part({ value }: { value: unknown }) {
  if (Array.isArray(value) && value.some(isNested))
    return (
      <ol class="body-list">
        {value.map((one, at) => (
          <li key={at}>
            <Part value={one} />
          </li>
        ))}
      </ol>
    );
  if (!isNested(value) || Array.isArray(value)) return <>{plainWords(value)}</>;
  return (
    <dl class="body-facts">
      {Object.entries(value).map(([name, inner]) => (
        <div key={name} class={isNested(inner) ? "body-nested" : undefined}>
          <dt>{fieldWords(name)}</dt>
          <dd class={isHash(inner) ? "hash" : undefined}>
            <Part value={inner} />
          </dd>
        </div>
      ))}
    </dl>
  );
}

const isNested = (value: unknown): value is object => typeof value === "object" && value !== null;
const isHash = (value: unknown): boolean => typeof value === "string" && /^[0-9a-f]{64,}$/.test(value);

function plainWords(value: unknown): string {
  if (value === null) return "not told";
  if (Array.isArray(value)) return value.length === 0 ? "none" : value.map(plainWords).join(", ");
  if (value === "") return "empty";
  if (typeof value === "boolean") return value ? "yes" : "no";
  return String(value);
}
