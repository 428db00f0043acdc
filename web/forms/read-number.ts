/** The number that was typed, with comma or point; NaN where it is none. An empty field is none. */
export function readNumber(text: string): number {
  const written = text.trim().replace(",", ".");
  return written === "" ? Number.NaN : Number(written);
}
