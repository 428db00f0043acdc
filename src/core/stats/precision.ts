import { mean, sumNthPowerDeviations } from "simple-statistics";

/** Precision of one method over several labs. `null` means not estimable. */
export interface Precision {
  /** Over all results */
  grandMean: number;
  /** `null` for one lab */
  meanSquareBetween: number | null;
  /** `null` where no lab has two results */
  meanSquareWithin: number | null;
  /** Weighted number of results per lab; `null` for one lab */
  meanCount: number | null;
  repeatability: number | null;
  betweenLab: number | null;
  reproducibility: number | null;
}

/**
 * Repeatability, between-lab and reproducibility standard deviations from a one-way layout, labs of unequal size allowed.
 *
 * A negative between-lab variance is set to 0.
 *
 * Source: ISO 5725-2:1994, 7.4.5 (formulae from memory).
 *
 * @param labs the results of each lab, one or more
 * @throws RangeError without labs, for an empty lab, or results that are not finite
 */
export function precision(labs: readonly (readonly number[])[]): Precision {
  checkLabs(labs);
  const count = labs.length;
  const total = labs.reduce((sum, results) => sum + results.length, 0);
  const grandMean = mean(labs.flat());
  let between = 0;
  let within = 0;
  let squaredCounts = 0;
  for (const results of labs) {
    const ownMean = mean(results);
    between += results.length * (ownMean - grandMean) ** 2;
    within += sumNthPowerDeviations(results, 2);
    squaredCounts += results.length ** 2;
  }
  const meanSquareBetween = count > 1 ? between / (count - 1) : null;
  const meanSquareWithin = total > count ? within / (total - count) : null;
  const meanCount = count > 1 ? (total - squaredCounts / total) / (count - 1) : null;
  const known = meanSquareBetween !== null && meanSquareWithin !== null && meanCount !== null;
  const betweenVariance = known ? Math.max(0, (meanSquareBetween - meanSquareWithin) / meanCount) : null;
  return {
    grandMean,
    meanSquareBetween,
    meanSquareWithin,
    meanCount,
    repeatability: meanSquareWithin === null ? null : Math.sqrt(meanSquareWithin),
    betweenLab: betweenVariance === null ? null : Math.sqrt(betweenVariance),
    reproducibility:
      betweenVariance === null || meanSquareWithin === null
        ? null
        : Math.sqrt(meanSquareWithin + betweenVariance),
  };
}

function checkLabs(labs: readonly (readonly number[])[]): void {
  if (labs.length === 0) throw new RangeError("labs must be one or more but there are none");
  for (const [index, results] of labs.entries()) {
    if (results.length === 0)
      throw new RangeError(`lab ${index + 1} must have one or more results but has none`);
    for (const result of results) {
      if (!Number.isFinite(result))
        throw new RangeError(`lab ${index + 1}: results must be finite but one is ${result}`);
    }
  }
}
