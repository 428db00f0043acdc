/**
 * The label that follows: the last number in it counted up, its width kept, so that after `ML-09` comes `ML-10` and after
 * `A07b` comes `A08b`. A label without a number gets one.
 */
export function countUp(label: string): string {
  const last = /^(.*?)(\d+)(\D*)$/s.exec(label);
  if (last === null) return label === "" ? "" : `${label}-2`;
  const [, before = "", digits = "", after = ""] = last;
  return `${before}${(BigInt(digits) + 1n).toString().padStart(digits.length, "0")}${after}`;
}
