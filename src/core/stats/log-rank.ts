import { chiSquareTail } from "./chi-square-tail.ts";
import { solvePositive } from "./solve-positive.ts";
import { checkObservations, type SurvivalObservation } from "./survival-observation.ts";

/** An observation with the group it is compared by and, for a stratified test, its stratum. */
export interface GroupedObservation extends SurvivalObservation {
  /** Index of the group, from 0 */
  group: number;
  stratum?: number | string;
}

/** Events seen and expected in each group if all had one survival curve. */
export interface LogRankTest {
  observed: number[];
  expected: number[];
  /** Null, as its p, where no group or only one could have had events, or chance has no room */
  statistic: number | null;
  degreesOfFreedom: number;
  p: number | null;
}

/**
 * Log-rank test that groups have one survival curve; within strata, if observations have one.
 *
 * Groups in which no event could have been seen (expected 0) are left out of the statistic. Tied events have the
 * hypergeometric variance.
 *
 * Source: Mantel N (1966) Cancer Chemother Rep 50:163-170; Peto R, Peto J (1972) JRSS A 135:185-207; Kalbfleisch & Prentice
 * (2002), section 1.5, eq. 1.19-1.21 (several groups), and strata.
 *
 * @param groups number of groups, two or more
 * @throws RangeError for no observations, a bad time, or a group outside 0 to groups - 1
 */
export function logRank(observations: readonly GroupedObservation[], groups: number): LogRankTest {
  checkObservations(observations);
  if (!(Number.isInteger(groups) && groups >= 2)) {
    throw new RangeError(`groups must be two or more but are ${groups}`);
  }
  const sums: LogRankSums = {
    observed: new Array<number>(groups).fill(0),
    expected: new Array<number>(groups).fill(0),
    variance: Array.from({ length: groups }, () => new Array<number>(groups).fill(0)),
  };
  const strata = new Map<number | string, GroupedObservation[]>();
  for (const [index, observation] of observations.entries()) {
    const { group, stratum = 0 } = observation;
    if (!(Number.isInteger(group) && group >= 0 && group < groups)) {
      throw new RangeError(`observation ${index + 1}: group must be from 0 to ${groups - 1} but is ${group}`);
    }
    const members = strata.get(stratum);
    if (members === undefined) strata.set(stratum, [observation]);
    else members.push(observation);
  }
  for (const members of strata.values()) addStratum(members, groups, sums);
  return { observed: sums.observed, expected: sums.expected, ...statisticOf(sums) };
}

interface LogRankSums {
  observed: number[];
  expected: number[];
  variance: number[][];
}

function addStratum(members: readonly GroupedObservation[], groups: number, sums: LogRankSums): void {
  const sorted = [...members].sort((a, b) => a.time - b.time);
  const atRisk = new Array<number>(groups).fill(0);
  for (const { group } of sorted) atRisk[group] = (atRisk[group] ?? 0) + 1;
  for (let next = 0; next < sorted.length; ) {
    const time = sorted[next]?.time;
    const total = sorted.length - next;
    const leaving = new Array<number>(groups).fill(0);
    let events = 0;
    while (next < sorted.length && sorted[next]?.time === time) {
      const { group, event } = sorted[next] as GroupedObservation;
      leaving[group] = (leaving[group] ?? 0) + 1;
      if (event) {
        events += 1;
        sums.observed[group] = (sums.observed[group] ?? 0) + 1;
      }
      next += 1;
    }
    if (events > 0) addTime(atRisk, total, events, sums);
    for (let group = 0; group < groups; group += 1) {
      atRisk[group] = (atRisk[group] ?? 0) - (leaving[group] ?? 0);
    }
  }
}

function addTime(atRisk: readonly number[], total: number, events: number, sums: LogRankSums): void {
  const factor = total > 1 ? (events * (total - events)) / (total - 1) : 0;
  for (const [i, ni] of atRisk.entries()) {
    sums.expected[i] = (sums.expected[i] ?? 0) + (events * ni) / total;
    const row = sums.variance[i] as number[];
    for (const [j, nj] of atRisk.entries()) {
      row[j] = (row[j] ?? 0) + factor * (ni / total) * ((i === j ? 1 : 0) - nj / total);
    }
  }
}

function statisticOf({ observed, expected, variance }: LogRankSums) {
  const informative = expected.flatMap((value, group) => (value > 0 ? [group] : []));
  const degreesOfFreedom = Math.max(0, informative.length - 1);
  // the differences sum to 0, so one group is left out
  const kept = informative.slice(1);
  const difference = kept.map((group) => (observed[group] ?? 0) - (expected[group] ?? 0));
  const matrix = kept.map((i) => kept.map((j) => variance[i]?.[j] ?? 0));
  const solution = kept.length === 0 ? null : solvePositive(matrix, difference);
  if (solution === null) return { statistic: null, degreesOfFreedom, p: null };
  const statistic = Math.max(
    0,
    solution.reduce((sum, value, index) => sum + value * (difference[index] ?? 0), 0),
  );
  return { statistic, degreesOfFreedom, p: chiSquareTail(statistic, degreesOfFreedom) };
}
