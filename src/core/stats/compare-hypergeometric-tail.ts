import { decimalOf } from "./decimal.ts";
import { type Draw, hypergeometricAtMost } from "./hypergeometric-tail.ts";

/**
 * The sign of P(X <= k) - limit for X the number of bad items in a sample from a lot, the limit taken as the decimal it is
 * written as.
 *
 * Lots are small, and ties such as 1/20 = 0.05 decide them: where tail and limit agree to twelve digits and the numbers are
 * small enough for a tie to exist, whole-number arithmetic decides.
 */
export function compareHypergeometricTail(k: number, draw: Draw, limit: number): -1 | 0 | 1 {
  const tail = hypergeometricAtMost(k, draw);
  const near = Math.abs(tail - limit) <= 1e-12 * limit;
  if (near && draw.size <= 20_000) return compareExactly(k, draw, limit);
  return tail < limit ? -1 : tail > limit ? 1 : 0;
}

function compareExactly(k: number, { size, bad, drawn }: Draw, limit: number): -1 | 0 | 1 {
  let ways = 0n;
  const least = Math.max(0, drawn + bad - size);
  for (let i = least; i <= Math.min(k, bad, drawn); i += 1) {
    ways += choose(bad, i) * choose(size - bad, drawn - i);
  }
  const { digits, scale } = decimalOf(limit);
  const left = ways * 10n ** BigInt(scale);
  const right = digits * choose(size, drawn);
  return left < right ? -1 : left > right ? 1 : 0;
}

function choose(n: number, k: number): bigint {
  let result = 1n;
  const fewer = Math.min(k, n - k);
  for (let i = 1; i <= fewer; i += 1) result = (result * BigInt(n - fewer + i)) / BigInt(i);
  return result;
}
