/**
 * x ln(x / m) + m - x: half the unit Poisson deviance of x about m, for x, m > 0, without cancellation near x = m.
 *
 * Source: Loader C (2000) Fast and Accurate Computation of Binomial Probabilities, function D0 and its
 * series.
 */
export function deviancePart(x: number, m: number): number {
  const difference = x - m;
  if (Math.abs(difference) >= 0.1 * (x + m)) return x * Math.log(x / m) - difference;
  const v = difference / (x + m);
  const square = v * v;
  let power = 2 * x * v;
  let sum = difference * v;
  for (let j = 1; j < 1000; j += 1) {
    power *= square;
    const next = sum + power / (2 * j + 1);
    if (next === sum) return sum;
    sum = next;
  }
  return sum;
}
