/**
 * A multiple of rated current for a reader: `200 %`, or `2.00x` where `as` is `times`. Percent keeps one decimal where it
 * says something: `135 %`, `200.4 %`.
 *
 * @throws RangeError if `multiple` is negative or not finite
 */
export function formatMultiple(multiple: number, as: "percent" | "times" = "percent"): string {
  if (!Number.isFinite(multiple) || multiple < 0) {
    throw new RangeError(`expected a multiple of zero or more but found ${multiple}`);
  }
  return as === "times" ? `${multiple.toFixed(2)}x` : `${Number((multiple * 100).toFixed(1))} %`;
}
