import type { RateComparison, RateQuestion, StratumAttribute } from "../contract/rates.ts";
import { chiSquareTail } from "../core/stats/chi-square-tail.ts";
import { cochranArmitage } from "../core/stats/cochran-armitage.ts";
import { fisherExact } from "../core/stats/fisher-exact.ts";
import { raoScott } from "../core/stats/rao-scott.ts";
import type { Stratum } from "./rates-selection.ts";
import type { RateTally } from "./rates-tally.ts";

const ordered: readonly StratumAttribute[] = [
  "poles",
  "ratedAmps",
  "rating",
  "frame",
  "volts",
  "madeYear",
  "decade",
  "multiple",
];

const pWords = (p: number) => (p < 0.0001 ? "p < 0.0001" : `p = ${Number(p.toPrecision(3))}`);

/** Tests whether the strata have one rate. Strata in which nothing was decided play no part. */
export function compareRates(
  question: RateQuestion,
  strata: readonly { stratum: Stratum; tally: RateTally }[],
): RateComparison[] {
  const decided = strata.filter(({ tally }) => tally.counts.failed + tally.counts.passed > 0);
  const [first, second] = decided;
  if (first === undefined || second === undefined) return [];
  const counts = decided.map(({ tally: { counts } }) => ({
    x: counts.failed,
    n: counts.failed + counts.passed,
  }));
  const results: RateComparison[] = [];
  const clustered = question.clusters !== "none";
  if (clustered) results.push(raoScottOf(decided.map(({ tally }) => tally)));
  if (decided.length === 2) {
    const [one = { x: 0, n: 1 }, other = { x: 0, n: 1 }] = counts;
    const { twoSided } = fisherExact({ x1: one.x, n1: one.n, x2: other.x, n2: other.n });
    results.push({
      method: "Fisher's exact test",
      statistic: null,
      p: twoSided,
      words: `Fisher's exact test of ${first.stratum.label} against ${second.stratum.label}, two-sided: ${pWords(twoSided)}. It takes specimens as independent of each other${clustered ? ", which those of one panel may not be" : ""}.`,
    });
  } else {
    const { naiveStatistic } = raoScott(counts.map(({ x, n }) => [{ y: x, m: n }]));
    const p = naiveStatistic === null ? null : chiSquareTail(naiveStatistic, decided.length - 1);
    results.push({
      method: "Pearson's chi-square",
      statistic: naiveStatistic,
      p,
      words:
        p === null
          ? "Pearson's chi-square: not estimable, because no specimen or every specimen failed."
          : `Pearson's chi-square of ${decided.length} strata: ${pWords(p)}. It takes specimens as independent, and is rough where a stratum expects fewer than five failures.`,
    });
  }
  const trend = trendOf(question, decided, counts);
  if (trend !== null) results.push(trend);
  return results;
}

function raoScottOf(tallies: readonly RateTally[]): RateComparison {
  const { statistic, p } = raoScott(tallies.map((tally) => tally.clusters()));
  return {
    method: "Rao-Scott test",
    statistic,
    p,
    words:
      p === null
        ? "Rao-Scott test, which allows for clusters: not estimable, because a stratum has only one cluster, no failure or nothing but failures."
        : `Rao-Scott test of ${tallies.length} strata, which allows for specimens of one cluster being alike: ${pWords(p)}.`,
  };
}

function trendOf(
  { by }: RateQuestion,
  decided: readonly { stratum: Stratum }[],
  counts: readonly { x: number; n: number }[],
): RateComparison | null {
  const [attribute] = by;
  if (by.length !== 1 || attribute === undefined || !ordered.includes(attribute)) return null;
  const scored = decided.flatMap(({ stratum }, at) => {
    const score = stratum.values[0]?.order;
    const count = counts[at];
    return typeof score === "number" && Number.isFinite(score) && count !== undefined
      ? [{ ...count, score }]
      : [];
  });
  if (scored.length < 3) return null;
  const trend = cochranArmitage(scored);
  if (trend === null) return null;
  return {
    method: "Cochran-Armitage trend",
    statistic: trend.z,
    p: trend.pTwoSided,
    words: `Cochran-Armitage test for a trend with ${attribute}, two-sided: ${pWords(trend.pTwoSided)}; the rate ${trend.z > 0 ? "rises" : "falls"}. It takes specimens as independent.`,
  };
}
