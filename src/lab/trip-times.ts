import type { MarginsView, RateQuestion, TripTimesView } from "../contract/rates.ts";
import { loadingWords } from "../core/specimen/loading-words.ts";
import { kaplanMeier } from "../core/stats/kaplan-meier.ts";
import { logRank } from "../core/stats/log-rank.ts";
import { survivalLimits } from "../core/stats/survival-limits.ts";
import type { SurvivalObservation } from "../core/stats/survival-observation.ts";
import { survivalQuantile, survivalQuantileLimits } from "../core/stats/survival-quantile.ts";
import { formatMultiple } from "../core/units/format-multiple.ts";
import { formatPercent } from "../core/units/format-percent.ts";
import { formatSeconds } from "../core/units/format-seconds.ts";
import type { TimedCase } from "../store/failure-counts.ts";
import { rateCaution } from "./cautions.ts";
import type { Lab } from "./lab.ts";
import { compareStrata, type Stratum, selectCases } from "./rates-selection.ts";

type Group = { stratum: Stratum; cases: TimedCase[] };

/** The earliest usable shot of each specimen that a question is about, by stratum. */
function timedCases(lab: Pick<Lab, "store">, question: RateQuestion) {
  const selection = selectCases(lab, question);
  const groups: Group[] = [];
  const met = new Set<string>();
  for (const one of lab.store.failureCounts.timed(question.state)) {
    const pointGroup = selection.groups.get(one.point);
    const key = `${one.specimen} ${pointGroup}`;
    if (pointGroup === undefined || met.has(key)) continue;
    met.add(key);
    if (one.result === "excluded") continue;
    const at = selection.stratumOf(one.kind, one.cluster, pointGroup);
    const stratum = at === null ? undefined : selection.strata[at];
    if (at === null || stratum === undefined) continue;
    const group = groups[at];
    if (group === undefined) groups[at] = { stratum, cases: [one] };
    else group.cases.push(one);
  }
  const { state, loading, only } = question;
  const at = selection.multiples.map((multiple) => formatMultiple(multiple)).join(" or ");
  const filter = only.map(({ attribute, value }) => `${attribute} = ${value}`).join(", ");
  const which =
    state === "as-found"
      ? "as found, first shot of each specimen"
      : `${state}, earliest such shot of each specimen`;
  return {
    selection,
    groups: groups
      .filter((group) => group !== undefined)
      .toSorted((a, b) => compareStrata(a.stratum, b.stratum)),
    words: `${at === "" ? "at no test point on record" : `at ${at} of rated current`}; ${loading === null ? "any loading" : loadingWords(loading)}; ${which}; excluded shots left out${filter === "" ? "" : `; only specimens with ${filter}`}${selection.inventedCounted ? ". Demo lab: every specimen is invented" : ""}`,
  };
}

const labelOf = ({ stratum }: Group) => stratum.label || "all";

/** Times to trip by stratum: Kaplan-Meier curves, medians and the log-rank test. A shot that ended without a trip is censored. */
export function tripTimesView(lab: Pick<Lab, "store">, question: RateQuestion): TripTimesView {
  const { selection, groups, words } = timedCases(lab, question);
  const criterion = `Time to trip, ${words}. A shot that ended without a trip is counted up to its end (right-censored).`;
  const observations = groups.map(({ cases }) =>
    cases.map(
      ({ seconds, heldSeconds }): SurvivalObservation => ({
        time: seconds ?? heldSeconds,
        event: seconds !== null,
      }),
    ),
  );
  const notes = [
    ...(selection.multiples.length > 1
      ? ["Times at different multiples stand in one curve: choose one multiple, or divide by it."]
      : []),
    "Times are those at the current as applied.",
    rateCaution,
  ];
  return {
    criterion,
    caution: rateCaution,
    groups: groups.map((group, at) =>
      describeGroup(labelOf(group), observations[at] ?? [], question.confidence),
    ),
    logRank: groups.length < 2 || selection.overlapping ? null : compareTimes(observations),
    figure: {
      title: "Time to trip",
      criterion,
      xLabel: "time, s",
      curves: groups.map((group, at) => curveOf(labelOf(group), observations[at] ?? [], question.confidence)),
      notes,
    },
  };
}

function describeGroup(
  label: string,
  observed: readonly SurvivalObservation[],
  level: number,
): TripTimesView["groups"][number] {
  const curve = kaplanMeier(observed);
  const medianSeconds = survivalQuantile(curve, 0.5);
  const limits = survivalQuantileLimits(curve, 0.5, level, "log-log");
  const tripped = observed.filter(({ event }) => event).length;
  const bound = (value: number | null) => (value === null ? "not estimable" : formatSeconds(value));
  return {
    label,
    specimens: observed.length,
    tripped,
    medianSeconds,
    medianLower: limits.lower,
    medianUpper: limits.upper,
    words:
      medianSeconds === null
        ? `${label}: ${tripped} of ${observed.length} tripped; the median is not estimable, because ${
            tripped === 0 ? "none tripped while it was watched" : "the curve does not come down to one half"
          }.`
        : `${label}: ${tripped} of ${observed.length} tripped; half had tripped after ${formatSeconds(medianSeconds)} (${formatPercent(level, 4)}: ${bound(limits.lower)} to ${bound(limits.upper)}).`,
  };
}

function compareTimes(groups: readonly (readonly SurvivalObservation[])[]): TripTimesView["logRank"] {
  const test = logRank(
    groups.flatMap((observed, group) => observed.map((one) => ({ ...one, group }))),
    groups.length,
  );
  return {
    statistic: test.statistic,
    degreesOfFreedom: test.degreesOfFreedom,
    p: test.p,
    words:
      test.p === null
        ? "Log-rank test: not estimable, because no two groups could have had trips to compare."
        : `Log-rank test of ${groups.length} groups: p = ${Number(test.p.toPrecision(3))}. It takes specimens as independent.`,
  };
}

function curveOf(label: string, observed: readonly SurvivalObservation[], level: number) {
  const curve = kaplanMeier(observed);
  const limits = survivalLimits(curve, level, "log-log");
  const times = Float64Array.from(observed, ({ time }) => time).sort();
  const atRisk = roundTimes(curve.lastTime).map((time) => ({
    time,
    n: times.length - times.findIndex((one) => one >= time),
  }));
  return {
    label,
    time: curve.steps.map(({ time }) => time),
    survival: curve.steps.map(({ survival }) => survival),
    lower: limits.map((limit) => limit?.lower ?? null),
    upper: limits.map((limit) => limit?.upper ?? null),
    atRisk,
    censored: observed.flatMap(({ time, event }) => (event ? [] : [time])).toSorted((a, b) => a - b),
    lastTime: curve.lastTime,
  };
}

/** From 0 on, four to eight round times up to the last one. */
function roundTimes(last: number): number[] {
  if (!(last > 0)) return [0];
  const power = 10 ** Math.floor(Math.log10(last));
  const step = [0.2, 0.5, 1, 2].map((factor) => factor * power).find((one) => last / one <= 7) ?? 2 * power;
  return Array.from({ length: Math.floor(last / step + 1e-9) + 1 }, (_, at) =>
    Number((at * step).toPrecision(6)),
  );
}

/** How far each specimen stayed from its limit: time over limit, by stratum. */
export function marginsView(lab: Pick<Lab, "store">, question: RateQuestion): MarginsView {
  const { groups, words } = timedCases(lab, question);
  const criterion = `Time over limit, ${words}. Above 1 is late; a shot that ended without a trip counts as at least its own time.`;
  return {
    criterion,
    caution: rateCaution,
    figure: {
      title: "Margins to the limit",
      criterion,
      points: groups.flatMap((group) =>
        group.cases.flatMap(({ label, seconds, heldSeconds, limitSeconds, result }) =>
          limitSeconds === null || limitSeconds <= 0
            ? []
            : [
                {
                  ...{ label, stratum: labelOf(group), result },
                  ratio: (seconds ?? heldSeconds) / limitSeconds,
                  censored: seconds === null,
                },
              ],
        ),
      ),
      notes: [rateCaution],
    },
  };
}
