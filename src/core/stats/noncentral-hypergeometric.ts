/**
 * The distribution of x1 given both margins of a 2x2 table, at odds ratio 1, as logarithms of weights up to one constant.
 *
 * Element i belongs to x1 = least + i. The weight at odds ratio θ is the one given here times θ^x1.
 */
export interface ConditionalWeights {
  least: number;
  logWeights: Float64Array;
}

/**
 * Weights of every possible x1 among n1, when x1 + x2 = events and the other group has n2.
 *
 * Built by the ratio of neighbours from the middle outwards, so that rounding does not pile up where the weight is.
 *
 * Source: Fisher R A (1935) J R Stat Soc 98:39-82; Agresti A (2013) Categorical Data Analysis, 3rd ed., equation 3.9 (from
 * memory).
 */
export function conditionalWeights(n1: number, n2: number, events: number): ConditionalWeights {
  const least = Math.max(0, events - n2);
  const most = Math.min(n1, events);
  const logWeights = new Float64Array(most - least + 1);
  const middle = Math.min(most, Math.max(least, Math.floor(((n1 + 1) * (events + 1)) / (n1 + n2 + 2))));
  // w(x + 1) / w(x)
  const logRatio = (x: number) => Math.log((((n1 - x) / (x + 1)) * (events - x)) / (n2 - events + x + 1));
  for (let x = middle; x < most; x += 1) {
    logWeights[x - least + 1] = (logWeights[x - least] ?? 0) + logRatio(x);
  }
  for (let x = middle; x > least; x -= 1) {
    logWeights[x - least - 1] = (logWeights[x - least] ?? 0) - logRatio(x - 1);
  }
  return { least, logWeights };
}
