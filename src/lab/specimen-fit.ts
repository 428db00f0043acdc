import type { FitGroup, SpecimenFitView } from "../contract/programme.ts";
import { loadingWords } from "../core/specimen/loading-words.ts";
import type { Loading } from "../core/specimen/specimen.ts";
import { fitTripModel } from "../core/thermal/fit-trip-model.ts";
import { curveMultiples, predictTripCurve } from "../core/thermal/predict-trip-curve.ts";
import type { TripShot } from "../core/thermal/trip-log-likelihood.ts";
import { chooseTimeConstants } from "../core/thermal/two-time-constants.ts";
import type { FullShot } from "../store/records.ts";
import type { Lab } from "./lab.ts";
import { knownSpecimen } from "./specimen-view.ts";

/** Below this a trip is taken for a magnetic one, which the thermal model does not speak of: our own choice, in seconds. */
const shortestThermal = 0.1;
/** An opening known no better than this part of its time enters as an interval. */
const coarse = 0.002;
/** How far the curve reaches at least, as a multiple of rating. */
const curveTo = 10;

type Used = { shot: string; loading: Loading; evidence: TripShot };
type Sorted = { used: Used[]; leftOut: SpecimenFitView["leftOut"] };

/** A shot as evidence for the model, or why it is none. */
function evidenceOf({ opened, closed }: FullShot): TripShot | string {
  if (closed === null) return "not closed yet";
  const { reading, verdict } = closed.body;
  const coldness = opened.body.coldness;
  const flags = reading.flags.filter((flag) => flag !== "not-cold");
  if (verdict.result === "excluded" && flags.length > 0) return `excluded: ${flags.join(", ")}`;
  if (coldness?.verdict === "unknown") return "heat left before the shot not known";
  const { multiple, interval, seconds } = reading;
  if (!(multiple > 0 && reading.heldSeconds > 0)) return "no current flowed";
  const preload = coldness?.preload ?? 0;
  const common = { multiple, ...(preload > 0 && preload < multiple ? { preload } : {}) };
  if (reading.outcome !== "tripped") return { ...common, kind: "held", seconds: reading.heldSeconds };
  if (seconds === null || interval === null) {
    return { ...common, kind: "held", seconds: reading.heldSeconds };
  }
  if (seconds < shortestThermal) return `tripped within ${shortestThermal} s: taken for a magnetic trip`;
  if (interval.lower > 0 && interval.upper - interval.lower > coarse * seconds) {
    return { ...common, kind: "interval", seconds: interval.lower, secondsUpper: interval.upper };
  }
  return { ...common, kind: "tripped", seconds };
}

function sortShots(lab: Pick<Lab, "store">, specimen: string): Sorted {
  const sorted: Sorted = { used: [], leftOut: [] };
  for (const record of lab.store.records.shots({ specimen }).reverse()) {
    const full = lab.store.records.shot(record.shot);
    if (full === null) continue;
    const evidence = evidenceOf(full);
    if (typeof evidence === "string") sorted.leftOut.push({ shot: record.shot, why: evidence });
    else sorted.used.push({ shot: record.shot, loading: record.loading, evidence });
  }
  return sorted;
}

/** A shot held this many times longer than it took to trip at no higher a current is no slow trip: our own choice. */
const stuckFactor = 2;

/** Takes out the shots that held although the same poles tripped much sooner: a latch that stuck, which no heat explains. */
function withoutStuck({ used, leftOut }: Sorted): Sorted {
  const stuck = ({ loading, evidence }: Used): Used | undefined =>
    used.find(
      (other) =>
        evidence.kind === "held" &&
        other.evidence.kind !== "held" &&
        other.loading === loading &&
        other.evidence.multiple <= evidence.multiple * 1.02 &&
        other.evidence.seconds * stuckFactor < evidence.seconds,
    );
  return {
    used: used.filter((one) => stuck(one) === undefined),
    leftOut: [
      ...leftOut,
      ...used.flatMap((one) => {
        const sooner = stuck(one);
        if (sooner === undefined) return [];
        const why = `held, yet the same poles tripped in less than half that time in ${sooner.shot}: stuck, not slow`;
        return [{ shot: one.shot, why }];
      }),
    ],
  };
}

function groupFit(loading: FitGroup["loading"], used: readonly Used[], level: number): FitGroup {
  const shots = used.map((one) => one.evidence);
  const fit = fitTripModel(shots, { level });
  const chosen = chooseTimeConstants(shots, fit);
  const highest = Math.max(curveTo, ...shots.map((shot) => shot.multiple));
  const { two } = chosen;
  const model = chosen.timeConstants === 2 && two !== null ? { two } : fit.estimable ? { one: fit } : null;
  const which = loading === "pooled" ? "All loadings pooled" : loadingWords(loading);
  return {
    loading,
    words: `${which}; shots as found and exercised together, each at its effective current and with the heat left before it.`,
    shots: used.map((one) => one.shot),
    fit,
    chosen,
    curve:
      model === null || !fit.estimable
        ? null
        : predictTripCurve(
            shots,
            model,
            curveMultiples("two" in model ? model.two.pickup : fit.pickup, highest),
            level,
          ),
  };
}

/**
 * Fits the trip model to a specimen's own shots: all loadings pooled, then, where there is more than one, each loading by itself.
 *
 * Shots of a latch that stuck are left out, and said so.
 *
 * @throws NotFoundError where there is no such specimen
 */
export function specimenFit(lab: Pick<Lab, "store">, specimen: string, level = 0.95): SpecimenFitView {
  const { details } = knownSpecimen(lab, specimen);
  const { used, leftOut } = withoutStuck(sortShots(lab, specimen));
  const loadings = [...new Set(used.map((one) => one.loading))].sort();
  const groups = [groupFit("pooled", used, level)];
  if (loadings.length > 1) {
    for (const loading of loadings) {
      groups.push(
        groupFit(
          loading,
          used.filter((one) => one.loading === loading),
          level,
        ),
      );
    }
  }
  return { specimen, label: details.label, groups, leftOut };
}
