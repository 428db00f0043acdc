/**
 * Breaks a text into lines no wider than `width`, at blanks, and inside words that are wider than a line. Line feeds in the text
 * begin a new line. There is always one line at least.
 *
 * @param widthOf width of a piece of text in the unit of `width`
 */
export function breakLines(text: string, width: number, widthOf: (piece: string) => number): string[] {
  return text.split(/\r?\n/).flatMap((part) => breakPart(part, width, widthOf));
}

function breakPart(text: string, width: number, widthOf: (piece: string) => number): string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(/\s+/).filter((one) => one !== "")) {
    const longer = line === "" ? word : `${line} ${word}`;
    if (widthOf(longer) <= width) {
      line = longer;
      continue;
    }
    if (line !== "") lines.push(line);
    const pieces = cutWord(word, width, widthOf);
    line = pieces.pop() ?? "";
    lines.push(...pieces);
  }
  return line === "" && lines.length > 0 ? lines : [...lines, line];
}

/** Pieces of a word that each fit; a single letter that does not fit stands alone. */
function cutWord(word: string, width: number, widthOf: (piece: string) => number): string[] {
  const pieces: string[] = [];
  let piece = "";
  for (const letter of word) {
    if (piece !== "" && widthOf(piece + letter) > width) {
      pieces.push(piece);
      piece = "";
    }
    piece += letter;
  }
  return [...pieces, piece];
}
