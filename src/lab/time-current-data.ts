import type {
  CurvePoint,
  DrawnBand,
  DrawnModel,
  DrawnShot,
  TimeCurrentFigureData,
} from "../contract/exhibit-figures.ts";
import type { FitGroup } from "../contract/programme.ts";
import { limitMarks } from "../core/limits/limit-marks.ts";
import { loadingWords } from "../core/specimen/loading-words.ts";
import type { Specimen } from "../core/specimen/specimen.ts";
import { formatAmps } from "../core/units/format-amps.ts";
import type { FullShot } from "../store/records.ts";
import { bandViews } from "./bands.ts";
import { limitSetView } from "./confirm-limit-set.ts";
import type { Lab } from "./lab.ts";
import { defaultLimitSet } from "./limit-library.ts";
import { specimenFit } from "./specimen-fit.ts";
import { knownSpecimen } from "./specimen-view.ts";

/**
 * The time-current figure of one specimen as data: the limits of a set, the lab's bands with the specimen's codes, every
 * shot that can be used, and the trip model of its own shots.
 *
 * @throws NotFoundError where there is no such specimen, InputError where there is no such limit set
 */
export function timeCurrentData(
  lab: Pick<Lab, "store" | "limits">,
  specimen: string,
  { limitSet = defaultLimitSet, axis = "multiple" }: { limitSet?: string; axis?: "multiple" | "amps" },
): TimeCurrentFigureData {
  const { details } = knownSpecimen(lab, specimen);
  const view = limitSetView(lab, lab.limits.get(limitSet));
  const used = lab.store.records
    .shots({ specimen })
    .flatMap(({ shot }) => lab.store.records.shot(shot) ?? [])
    .filter(({ closed }) => closed !== null && closed.body.verdict.result !== "excluded");
  const excluded = lab.store.records.shots({ specimen }).filter(({ result }) => result === "excluded").length;
  const [pooled] = specimenFit(lab, specimen).groups;
  return {
    title: `Time-current: ${details.label}`,
    subject: subjectWords(details),
    axis,
    ratedAmps: details.ratedAmps,
    limits: limitMarks(view.set, details),
    bands: bandsOf(lab, details),
    shots: used.flatMap((shot) => drawnShot(shot, details.poles)),
    model: drawnModel(pooled),
    ambient: ambientWords(used),
    startingState: stateWords(used),
    limitSets: [{ title: view.set.title, confirmed: view.confirmed }],
    notes: [
      ...(pooled?.fit.estimable === true && !pooled.fit.determined
        ? [`No model curve: these shots do not determine one. ${pooled.fit.advice ?? ""}`.trim()]
        : []),
      ...(excluded === 0 ? [] : [`Left out as excluded: ${excluded}.`]),
      ...(details.demo === true ? ["Demo: this specimen and its tests are invented."] : []),
    ],
  };
}

function subjectWords({ ratedAmps, poles, volts, job, demo }: Specimen): string {
  const where = job === undefined ? "" : `; job ${job}`;
  return `${formatAmps(ratedAmps)}, ${poles} ${poles === 1 ? "pole" : "poles"}, ${volts} V${where}${demo === true ? "; demo, invented" : ""}`;
}

/** Bands with the specimen's codes. One in amperes belongs to one rating, which its codes do not tell. */
function bandsOf(lab: Pick<Lab, "store">, { makeCode, typeCode }: Specimen): DrawnBand[] {
  return bandViews(lab)
    .filter(
      (one) =>
        (one.makeCode !== null || one.typeCode !== null) &&
        (one.makeCode === null || one.makeCode === makeCode) &&
        (one.typeCode === null || one.typeCode === typeCode) &&
        one.band.current === "multiple",
    )
    .map(({ band: { title, current, minimum, maximum } }) => ({
      label: title,
      current,
      minimum: minimum.map(([at, seconds]): CurvePoint => [at, seconds]),
      maximum: maximum.map(([at, seconds]): CurvePoint => [at, seconds]),
    }));
}

function drawnShot({ record, opened, closed }: FullShot, poles: number): DrawnShot[] {
  if (closed === null) return [];
  const { reading } = closed.body;
  const seconds = reading.outcome === "tripped" ? reading.seconds : reading.heldSeconds;
  if (seconds === null || !(seconds > 0) || !(reading.multiple > 0)) return [];
  const { currentPercent } = opened.body.basis;
  const expanded = reading.outcome === "tripped" ? (reading.uncertainty?.expanded ?? null) : null;
  const state = record.state.kind === "as-found" ? "as found" : "exercised";
  return [
    {
      label: poles === 1 ? state : `${loadingWords(record.loading)}, ${state}`,
      multiple: reading.multiple,
      seconds,
      outcome: reading.outcome,
      // A bar that would reach 0 has no place on a logarithmic axis.
      time:
        expanded === null || expanded >= seconds
          ? null
          : { lower: seconds - expanded, upper: seconds + expanded },
      current: {
        lower: reading.multiple * (1 - currentPercent / 100),
        upper: reading.multiple * (1 + currentPercent / 100),
      },
    },
  ];
}

function drawnModel(group: FitGroup | undefined): DrawnModel | null {
  const curve = group?.curve ?? null;
  // A best fit that the shots do not determine is no picture of the specimen; the notes say so instead.
  if (curve === null || group?.fit.estimable !== true || !group.fit.determined) return null;
  const points = (times: readonly (number | null)[]): CurvePoint[] =>
    curve.multiples.flatMap((multiple, at) => {
      const seconds = times[at] ?? null;
      return seconds === null || !(seconds > 0 && Number.isFinite(seconds))
        ? []
        : [[multiple, seconds] as CurvePoint];
    });
  const median = points(curve.median);
  if (median.length < 2) return null;
  return {
    label: `fitted, ${curve.level * 100} % bounds of one further shot`,
    curve: median,
    lower: points(curve.lower),
    upper: points(curve.upper),
  };
}

function ambientWords(shots: readonly FullShot[]): string {
  const known = shots.flatMap(({ closed }) => closed?.body.ambientCelsius ?? []);
  if (known.length === 0) return "not recorded";
  const [low, high] = [Math.min(...known).toFixed(0), Math.max(...known).toFixed(0)];
  return low === high ? `${low} °C` : `${low} °C to ${high} °C`;
}

function stateWords(shots: readonly FullShot[]): string {
  const verdicts = new Set(shots.map(({ opened }) => opened.body.coldness?.verdict ?? "not recorded"));
  return verdicts.size === 0 ? "not recorded" : [...verdicts].join(", ");
}
