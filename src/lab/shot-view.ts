import type { ShotLine, ShotView } from "../contract/http.ts";
import { formatAmps, formatSeconds, percentWords } from "../core/units/format-quantity.ts";
import type { StoredShot } from "../store/projections.ts";
import type { Lab } from "./lab.ts";
import { NotFoundError } from "./not-found-error.ts";
import { loadingWords } from "./programme-view.ts";
import { knownSpecimen, specimenView } from "./specimen-view.ts";

function lineOf(lab: Pick<Lab, "store">, shot: StoredShot): ShotLine {
  const { opened, closed } = shot;
  const { details } = knownSpecimen(lab, opened.specimen);
  return {
    id: opened.shot,
    specimen: opened.specimen,
    label: details.label,
    job: details.job ?? null,
    ratedAmps: opened.ratedAmps,
    poles: details.poles,
    multiple: opened.row.multiple,
    loading: opened.loading,
    state: opened.state,
    openedAt: shot.openedAt,
    closedAt: shot.closedAt,
    outcome: closed?.reading.outcome ?? null,
    result: closed?.verdict.result ?? null,
    seconds: closed?.reading.seconds ?? null,
    heldSeconds: closed?.reading.heldSeconds ?? null,
    limitSeconds: closed?.verdict.limitSeconds ?? null,
    demo: details.demo === true,
  };
}

/** The record, newest first; of one specimen where named. */
export function shotLines(lab: Pick<Lab, "store">, specimen?: string): ShotLine[] {
  if (specimen !== undefined) knownSpecimen(lab, specimen);
  return lab.store.shots(specimen === undefined ? {} : { specimen }).map((shot) => lineOf(lab, shot));
}

/** The stored shot of that identifier. @throws NotFoundError where there is none */
export function knownShot(lab: Pick<Lab, "store">, id: string): StoredShot {
  const shot = lab.store.shot(id);
  if (shot === undefined) throw new NotFoundError(`there is no shot "${id}"`);
  return shot;
}

/** One shot, whole, with where each of its numbers comes from. */
export function shotView(lab: Pick<Lab, "store">, id: string): ShotView {
  const shot = knownShot(lab, id);
  const { opened, closed } = shot;
  return {
    line: lineOf(lab, shot),
    specimen: specimenView(lab, opened.specimen),
    opened: lab.store.entry(shot.openedSequence, "shot-opened"),
    closed: shot.closedSequence === null ? null : lab.store.entry(shot.closedSequence, "shot-closed"),
    provenance: [
      {
        what: "Rated current",
        value: formatAmps(opened.ratedAmps),
        from: `marked on the specimen, entered when it was received (${opened.specimen})`,
      },
      {
        what: "Test current",
        value: formatAmps(opened.targetAmps),
        from: `${percentWords(opened.row.multiple)} of rated current, ${loadingWords(opened.loading)}, row ${opened.row.id} of ${opened.limitSet}`,
      },
      {
        what: "Limit",
        value: closed?.verdict.limitSeconds == null ? "none" : formatSeconds(closed.verdict.limitSeconds),
        from: `${opened.row.source.document}, ${opened.row.source.standing}${opened.row.source.doubtful ? ", doubtful" : ""}: ${opened.row.source.note}`,
      },
      ...(closed === null
        ? []
        : [
            {
              what: "Time",
              value:
                closed.reading.seconds === null
                  ? `no trip in ${formatSeconds(closed.reading.heldSeconds)}`
                  : formatSeconds(closed.reading.seconds),
              from: `read from ${closed.samples} samples on the rig's own clock; SHA-256 of the samples ${closed.samplesHash}`,
            },
            {
              what: "Effective current",
              value: formatAmps(closed.reading.effectiveAmps),
              from: "root mean square of the samples over the on-time",
            },
            {
              what: "Ambient",
              value: closed.ambientCelsius === null ? "not known" : `${closed.ambientCelsius.toFixed(1)} °C`,
              from: "reported by the rig",
            },
            {
              what: "The rig's own result",
              value:
                closed.rigResult === null
                  ? "none"
                  : `${closed.rigResult.outcome} after ${formatSeconds(closed.rigResult.onTimeUs / 1e6)}`,
              from: `firmware ${opened.rig.firmware} of ${opened.rig.model} ${opened.rig.serial}; for comparison only`,
            },
          ]),
      {
        what: "Uncertainty",
        value: `current ${opened.basis.currentPercent} %, k = ${opened.basis.currentK}`,
        from: opened.basis.from,
      },
    ],
  };
}
