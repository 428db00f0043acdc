import { checkOpenProbability, checkWhole } from "./check-arguments.ts";
import { clopperPearsonUpper } from "./clopper-pearson.ts";

/** What n tests without one failure say about the failure rate. */
export interface ZeroFailureBounds {
  /** 3/n, the mental-arithmetic 95 % bound; may exceed 1. `null` at any other confidence, for which it is no rule */
  ruleOfThree: number | null;
  ruleOfThreeClipped: number | null;
  /** 1 - (1 - confidence)^(1/n) */
  exactOneSided: number;
  /** Upper end of the two-sided exact interval of that confidence */
  exactTwoSidedUpper: number;
}

/**
 * Upper bounds on a failure rate after n passes and no failure.
 *
 * Source: Hanley J A, Lippman-Hand A (1983) JAMA 249:1743-1745 ("If nothing goes wrong, is everything all right?").
 *
 * @throws RangeError if n is not a whole number of 1 or more, or the confidence is outside (0, 1)
 */
export function ruleOfThree(n: number, confidence: number): ZeroFailureBounds {
  checkWhole("n", n, 1);
  checkOpenProbability("confidence", confidence);
  const tail = 1 - confidence;
  const simple = confidence === 0.95 ? 3 / n : null;
  return {
    ruleOfThree: simple,
    ruleOfThreeClipped: simple === null ? null : Math.min(1, simple),
    exactOneSided: clopperPearsonUpper(0, n, tail),
    exactTwoSidedUpper: clopperPearsonUpper(0, n, tail / 2),
  };
}
