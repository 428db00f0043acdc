import { checkOpenProbability } from "./check-arguments.ts";
import { clopperPearsonLower, clopperPearsonUpper } from "./clopper-pearson.ts";
import type { Interval } from "./interval.ts";
import { jeffreysLower, jeffreysUpper } from "./jeffreys.ts";
import { midPLower, midPUpper } from "./mid-p.ts";
import { wilsonLower, wilsonUpper } from "./wilson.ts";

/** A lower and an upper bound by each of four methods; each bound alone has the stated confidence, the pair has not. */
export interface OneSidedBounds {
  clopperPearson: Interval;
  wilson: Interval;
  jeffreys: Interval;
  midP: Interval;
}

/**
 * One-sided bounds on a proportion: the whole of 1 - confidence in one tail.
 *
 * Source: Brown L D, Cai T T, DasGupta A (2001) Stat Sci 16:101-133, and Cai T T (2005) J Stat Plan Inference 131:63-88 for
 * the one-sided use.
 *
 * @throws RangeError for counts that are not k of n, or a confidence outside (0, 1)
 */
export function oneSidedBounds(k: number, n: number, confidence: number): OneSidedBounds {
  checkOpenProbability("confidence", confidence);
  const tail = 1 - confidence;
  return {
    clopperPearson: { lower: clopperPearsonLower(k, n, tail), upper: clopperPearsonUpper(k, n, tail) },
    wilson: { lower: wilsonLower(k, n, confidence), upper: wilsonUpper(k, n, confidence) },
    jeffreys: { lower: jeffreysLower(k, n, tail), upper: jeffreysUpper(k, n, tail) },
    midP: { lower: midPLower(k, n, tail), upper: midPUpper(k, n, tail) },
  };
}
