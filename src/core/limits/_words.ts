/** A number for a reader: six significant digits, without trailing zeros. */
export const plainNumber = (value: number): string => `${Number(value.toPrecision(6))}`;

/** A time for a reader. */
export const secondsText = (seconds: number): string => `${plainNumber(seconds)} s`;

/** "a", "a and b", "a, b and c". */
export function namedList(items: readonly string[]): string {
  const last = items.at(-1) ?? "none";
  return items.length < 2 ? last : `${items.slice(0, -1).join(", ")} and ${last}`;
}

/** A range that excludes its lower end and includes its upper; both the same is that one value. */
export function ratingRange(over: number, to: number | null, unit: string): string {
  if (to === null) return `over ${over} ${unit}`;
  if (over === to) return `exactly ${to} ${unit}`;
  return over === 0 ? `up to ${to} ${unit}` : `over ${over} up to ${to} ${unit}`;
}
