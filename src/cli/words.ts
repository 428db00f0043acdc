import { resultText } from "../core/limits/result-marks.ts";
import type { Verdict } from "../core/limits/verdict.ts";
import type { Reading } from "../core/signal/reading.ts";
import type { OperationState } from "../core/specimen/specimen.ts";
import { formatAmps } from "../core/units/format-amps.ts";
import { formatSeconds } from "../core/units/format-seconds.ts";

/** As found, or how often the handle or the mechanism moved before. */
export function stateWords(state: OperationState): string {
  return state.kind === "as-found" ? "as found" : `exercised (${state.operations})`;
}

/** Result of a verdict with its glyph, and the statement of a non-binary rule. */
export function resultWords(
  result: Verdict["result"] | null,
  statement: Verdict["statement"] = null,
): string {
  if (result === null) return "open";
  const words = resultText(result);
  return statement === null ? words : `${words} (${statement})`;
}

/** One shot's reading and verdict in a few lines. */
export function readingWords(reading: Reading, verdict: Verdict): string {
  const time =
    reading.outcome === "tripped" && reading.seconds !== null
      ? `tripped after ${formatSeconds(reading.seconds)}${
          reading.uncertainty === null
            ? ""
            : ` ± ${formatSeconds(reading.uncertainty.expanded)} (k = ${reading.uncertainty.k.toFixed(2)})`
        }`
      : `${reading.outcome} at ${formatSeconds(reading.heldSeconds)} without a trip`;
  return [
    `${resultWords(verdict.result, verdict.statement)}: ${time}`,
    `  effective current ${formatAmps(reading.effectiveAmps)} (${reading.multiple.toFixed(3)} times rating), ${reading.samples} samples`,
    ...(reading.flags.length > 0 ? [`  flags: ${reading.flags.join(", ")}`] : []),
    ...verdict.reasons.map((reason) => `  ${reason}`),
  ].join("\n");
}
