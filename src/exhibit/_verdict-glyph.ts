import type { Verdict } from "../core/limits/verdict.ts";
import { type MarkShape, mark } from "./_marks.ts";

const shapes: Readonly<Record<Verdict["result"], MarkShape>> = {
  pass: "disc",
  fail: "cross",
  undetermined: "triangle",
  excluded: "ring",
};

/** What each glyph is called in the notes of a figure. */
export const glyphWords: Readonly<Record<Verdict["result"], string>> = {
  pass: "filled circle: pass",
  fail: "cross: fail",
  undetermined: "open triangle: undetermined",
  excluded: "open circle: excluded",
};

/** A verdict as a shape that survives a copy in grey. */
export function verdictGlyph(result: Verdict["result"], x: number, y: number, size: number): string {
  return mark(shapes[result], x, y, size);
}
