import type { Finding, Verdict } from "../../src/core/limits/verdict.ts";
import type { Reading } from "../../src/core/signal/reading.ts";
import { formatSeconds } from "../../src/core/units/format-seconds.ts";

type Result = Verdict["result"];

/** The results with the word for each and, where it is neither pass nor fail, what that means. */
export const resultWords: Readonly<Record<Result, { word: string; meaning: string }>> = {
  pass: { word: "Pass", meaning: "In this one test the specimen did what the test point asks." },
  fail: { word: "Fail", meaning: "In this test the specimen did not do what the test point asks." },
  undetermined: {
    word: "Undetermined",
    meaning:
      "The test ended, without a trip, before it could decide. It is neither a pass nor a fail: had the current stayed on, the specimen might have done either.",
  },
  excluded: {
    word: "Excluded",
    meaning:
      "The test cannot be used, for the reason given. It gives no verdict, stays in the record, and is counted as excluded.",
  },
};

/** What was found, apart from pass and fail. */
export const findingWords: Readonly<Record<Finding, string>> = {
  "tripped in time": "It tripped in time.",
  "held as required": "It held as required.",
  "late trip": "It tripped too late: a failure to protect.",
  "no trip": "It did not trip: a failure to protect.",
  "inside the guard band": "It met the limit, but not by the margin that the rule demands.",
  "too fast": "It tripped too fast.",
  "nuisance trip": "It tripped where it must hold: a nuisance trip.",
  "not decided": "Nothing was decided.",
};

/** How a shot ended and when: `tripped after 43.2 s`. */
export function outcomeWords(reading: Pick<Reading, "outcome" | "seconds" | "heldSeconds">): string {
  if (reading.outcome === "tripped" && reading.seconds !== null)
    return `tripped after ${formatSeconds(reading.seconds)}`;
  const held = formatSeconds(reading.heldSeconds);
  return reading.outcome === "held"
    ? `did not trip in ${held}`
    : `was interrupted after ${held} without a trip`;
}
