import { resultText } from "../core/limits/result-marks.ts";
import type { Reading } from "../core/signal/reading.ts";
import { loadingWords } from "../core/specimen/loading-words.ts";
import type { OperationState } from "../core/specimen/specimen.ts";
import { formatMultiple } from "../core/units/format-multiple.ts";
import { formatSeconds } from "../core/units/format-seconds.ts";
import { formatWithUncertainty } from "../core/units/format-with-uncertainty.ts";
import type { ShotData } from "./document-data.ts";

/** A result with its glyph, so that it survives copying in grey. */
export const resultWords = resultText;

/** As found, or how often it was operated before; a test that did not trip it moved nothing, and still is no first test. */
export function stateWords(state: OperationState): string {
  if (state.kind === "as-found") return "as found";
  return state.operations === 0 ? "tested before" : `exercised ${state.operations}×`;
}

/** The time, with its uncertainty where it has one; for a shot without a trip, how long it was held. */
export function timeWords(reading: Reading): string {
  if (reading.seconds === null) return `no trip in ${formatSeconds(reading.heldSeconds)}`;
  return reading.uncertainty === null
    ? formatSeconds(reading.seconds)
    : formatWithUncertainty(reading.seconds, reading.uncertainty.expanded, "s");
}

/** A test in few words: `200 %, pole 1 alone`. */
export function testWords({ opened }: Pick<ShotData, "opened">): string {
  return `${formatMultiple(opened.row.multiple)}, ${loadingWords(opened.loading)}`;
}

/** A date and time of the record for a reader; a year alone stays one. */
export function momentWords(at: string): string {
  return at.length < 16 ? at : `${at.slice(0, 10)} ${at.slice(11, 16)} UTC`;
}

/** A share of one in percent with so many digits as say something. */
export function percentOf(share: number): string {
  const percent = share * 100;
  if (percent > 0 && percent < 0.01) return "< 0.01 %";
  if (percent < 100 && percent > 99.99) return "> 99.99 %";
  return `${Number(percent.toPrecision(3))} %`;
}
