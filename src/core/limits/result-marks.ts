import type { Verdict } from "./verdict.ts";

/** Glyph and word of each result, the same on page, command line and exhibit: never colour alone. */
export const resultMarks: Readonly<Record<Verdict["result"], { glyph: string; word: string }>> = {
  pass: { glyph: "✓", word: "pass" },
  fail: { glyph: "✗", word: "FAIL" },
  undetermined: { glyph: "?", word: "undetermined" },
  excluded: { glyph: "–", word: "excluded" },
};

/** A result as glyph and word, for a line of text. */
export const resultText = (result: Verdict["result"]): string =>
  `${resultMarks[result].glyph} ${resultMarks[result].word}`;
