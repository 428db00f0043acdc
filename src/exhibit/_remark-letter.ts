/** The letter of a remark by its place from 0: A to Z, then AA, AB and so on. */
export function remarkLetter(place: number): string {
  const last = String.fromCharCode(65 + (place % 26));
  return place < 26 ? last : remarkLetter(Math.floor(place / 26) - 1) + last;
}
