import type { ShotLine, ShotView } from "../contract/http.ts";
import { ruleWords } from "../core/limits/decision-rule.ts";
import { loadingWords } from "../core/specimen/loading-words.ts";
import { formatAmps } from "../core/units/format-amps.ts";
import { formatMultiple } from "../core/units/format-multiple.ts";
import { formatSeconds } from "../core/units/format-seconds.ts";
import type { FullShot, ShotRecord } from "../store/records.ts";
import { type AmendmentCounts, amendmentCounts } from "./amendment-counts.ts";
import { confirmationBehind } from "./confirm-limit-set.ts";
import type { Lab } from "./lab.ts";
import { NotFoundError } from "./not-found-error.ts";
import { knownSpecimen, specimenView } from "./specimen-view.ts";

function lineOf(record: ShotRecord, amendments: AmendmentCounts): ShotLine {
  return {
    id: record.shot,
    specimen: record.specimen,
    label: record.label,
    job: record.job,
    ratedAmps: record.ratedAmps,
    poles: record.poles,
    multiple: record.multiple,
    loading: record.loading,
    state: record.state,
    openedAt: record.openedAt,
    closedAt: record.closedAt,
    outcome: record.outcome,
    result: record.result,
    statement: record.verdict?.statement ?? null,
    seconds: record.seconds,
    heldSeconds: record.heldSeconds,
    limitSeconds: record.verdict?.limitSeconds ?? null,
    demo: record.demo,
    amendments: amendments.of(record.shot),
  };
}

/** The record, newest first; of one specimen where named. */
export function shotLines(lab: Pick<Lab, "store">, specimen?: string): ShotLine[] {
  if (specimen !== undefined) knownSpecimen(lab, specimen);
  const amendments = amendmentCounts(lab);
  return lab.store.records
    .shots(specimen === undefined ? {} : { specimen })
    .map((record) => lineOf(record, amendments));
}

/** The stored shot of that identifier. @throws NotFoundError where there is none */
export function knownShot(lab: Pick<Lab, "store">, id: string): FullShot {
  const shot = lab.store.records.shot(id);
  if (shot === null) throw new NotFoundError(`there is no shot "${id}"`);
  return shot;
}

/** Where the limit comes from that a shot is judged by, and how well it is known. */
function limitWords({ row, limitSet, choice }: FullShot["opened"]["body"]): string {
  const band = choice?.by === "band" ? choice.band : null;
  const { document, standing, doubtful, note } = (band ?? row).source;
  const name = band === null ? `row ${row.id} of ${limitSet}` : `band ${band.id}`;
  const chosen = choice === undefined ? "" : ` ${choice.words}`;
  return `${name}: ${document}, ${standing}${doubtful ? ", doubtful" : ""}: ${note}${chosen}`;
}

function confirmationWords(lab: Pick<Lab, "store">, opened: FullShot["opened"]): string {
  const { confirmed, choice } = opened.body;
  const none = "the lab had not compared the limit with its own copy of the document before the shot";
  if (!confirmed) return none;
  if (choice?.by === "band") return `the lab digitised the band: ${choice.band.source.standing}`;
  return confirmationBehind(lab, opened) ?? none;
}

/** One shot, whole, with where each of its numbers comes from. */
export function shotView(lab: Pick<Lab, "store">, id: string): ShotView {
  const shot = knownShot(lab, id);
  const opened = shot.opened.body;
  const closed = shot.closed?.body ?? null;
  const line = lineOf(shot.record, amendmentCounts(lab));
  return {
    line,
    specimen: specimenView(lab, opened.specimen),
    opened: shot.opened,
    closed: shot.closed,
    amendments: line.amendments,
    provenance: [
      {
        what: "Rated current",
        value: formatAmps(opened.ratedAmps),
        from: `marked on the specimen, entered when it was received (${opened.specimen})`,
      },
      {
        what: "Test current",
        value: formatAmps(opened.targetAmps),
        from: `${formatMultiple(opened.row.multiple)} of rated current, ${loadingWords(opened.loading)}, row ${opened.row.id} of ${opened.limitSet}`,
      },
      {
        what: "Limit",
        value: closed?.verdict.limitSeconds == null ? "none" : formatSeconds(closed.verdict.limitSeconds),
        from: limitWords(opened),
      },
      {
        what: "Confirmed",
        value: opened.confirmed ? "yes" : "no",
        from: confirmationWords(lab, shot.opened),
      },
      {
        what: "Decision rule",
        value: ruleWords(opened.rule, null, "s"),
        from: "named before the current, in the shot's opening entry",
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
