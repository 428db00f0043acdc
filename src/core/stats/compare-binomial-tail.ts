import { binomialAtMost } from "./binomial-tail.ts";
import { type Decimal, decimalComplement, decimalOf, decimalToNumber } from "./decimal.ts";

/**
 * The sign of P(X <= c) - limit for X binomial(n, p), with p and limit taken as the decimals they are written as.
 *
 * Plans turn on ties, such as 0.8² = 0.64, that floating point decides by chance. Where the tail and the limit agree to
 * twelve digits and the numbers are small enough for a tie to exist, whole-number arithmetic decides.
 */
export function compareBinomialTail(c: number, n: number, p: number, limit: number): -1 | 0 | 1 {
  const failing = decimalOf(p);
  const passing = decimalComplement(failing);
  const tail = binomialAtMost(c, n, p, decimalToNumber(passing));
  const near = Math.abs(tail - limit) <= 1e-12 * limit;
  if (near && failing.scale * n <= 20_000) return compareExactly(c, n, failing, passing, decimalOf(limit));
  return tail < limit ? -1 : tail > limit ? 1 : 0;
}

function compareExactly(
  c: number,
  n: number,
  failing: Decimal,
  passing: Decimal,
  limit: Decimal,
): -1 | 0 | 1 {
  let coefficient = 1n;
  let sum = 0n;
  for (let k = 0; k <= Math.min(c, n); k += 1) {
    sum += coefficient * failing.digits ** BigInt(k) * passing.digits ** BigInt(n - k);
    coefficient = (coefficient * BigInt(n - k)) / BigInt(k + 1);
  }
  const left = sum * 10n ** BigInt(limit.scale);
  const right = limit.digits * 10n ** BigInt(failing.scale * n);
  return left < right ? -1 : left > right ? 1 : 0;
}
