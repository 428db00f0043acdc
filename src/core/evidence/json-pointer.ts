/** What stands at a place in a JSON value: something, or nothing at all. */
export type Found = { there: true; value: unknown } | { there: false };

/**
 * The steps of a JSON pointer: `/a~1b/0` is `["a/b", "0"]`.
 *
 * Source: RFC 6901 (2013), sections 3 and 4. The pointer to the whole value, the empty string, is not accepted here.
 *
 * @throws RangeError for text that is no such pointer
 */
export function pointerSteps(pointer: string): string[] {
  if (!/^(\/([^~/]|~[01])*)+$/u.test(pointer))
    throw new RangeError(
      `found ${JSON.stringify(pointer)}; accepted is a JSON pointer such as /details/condition`,
    );
  return pointer
    .slice(1)
    .split("/")
    .map((step) => step.replaceAll("~1", "/").replaceAll("~0", "~"));
}

/** What stands at the end of these steps. Only own members count, and indices without leading zeros. */
export function valueAt(whole: unknown, steps: readonly string[]): Found {
  let value = whole;
  for (const step of steps) {
    if (Array.isArray(value) && !isIndex(step)) return { there: false };
    if (typeof value !== "object" || value === null || !Object.hasOwn(value, step)) return { there: false };
    value = (value as Readonly<Record<string, unknown>>)[step];
  }
  return { there: true, value };
}

/**
 * A copy of `whole` with another value at the end of these steps, or with nothing there. `whole` is not altered.
 *
 * @throws RangeError where the way there does not exist, or an item would be added to or taken from the middle of a list
 */
export function withValueAt(whole: unknown, steps: readonly string[], next: Found): unknown {
  const [step, ...rest] = steps;
  if (step === undefined) {
    if (!next.there) throw new RangeError("the whole value cannot be taken away");
    return next.value;
  }
  if (Array.isArray(whole)) {
    const index = isIndex(step) ? Number(step) : -1;
    const isLast = rest.length === 0;
    if (index >= 0 && index < whole.length && (next.there || !isLast))
      return whole.with(index, withValueAt(whole[index], rest, next));
    if (isLast && next.there && index === whole.length) return [...whole, next.value];
    if (isLast && !next.there && index === whole.length - 1 && index >= 0) return whole.slice(0, -1);
    throw new RangeError(`there is no item ${step} in a list of ${whole.length}`);
  }
  if (typeof whole !== "object" || whole === null) throw new RangeError(`there is nothing below "${step}"`);
  const members = Object.entries(whole).filter(([name]) => name !== step);
  if (rest.length === 0) return Object.fromEntries(next.there ? [...members, [step, next.value]] : members);
  if (!Object.hasOwn(whole, step)) throw new RangeError(`there is no field "${step}"`);
  const below = withValueAt((whole as Readonly<Record<string, unknown>>)[step], rest, next);
  return Object.fromEntries(
    Object.entries(whole).map(([name, value]) => [name, name === step ? below : value]),
  );
}

const isIndex = (step: string): boolean => /^(0|[1-9]\d{0,8})$/.test(step);
