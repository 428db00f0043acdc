import type { EntryBodies } from "../contract/ledger-entries.ts";
import { bandAt } from "../core/limits/band.ts";
import { judgeReading } from "../core/limits/judge-reading.ts";
import { judgeReadingByBand } from "../core/limits/judge-reading-by-band.ts";
import type { TestPoint } from "../core/limits/limit-set.ts";
import type { Verdict } from "../core/limits/verdict.ts";
import { expandedAtLimit } from "../core/signal/expanded-at-limit.ts";
import { readShot } from "../core/signal/read-shot.ts";
import type { Reading } from "../core/signal/reading.ts";
import { firstOrderThermal } from "../core/signal/sensitivity.ts";
import type { HostEnd, RigResult, ShotSignal } from "../core/signal/shot-signal.ts";
import { decidingSeconds } from "./check-rule-before-shot.ts";
import { inBandUnit } from "./choose-limit.ts";

/** What the end of a shot adds to its samples. */
export interface ShotEnding {
  hostEnd: HostEnd;
  rigResult: RigResult | null;
  ambientCelsius: number | null;
}

/** The test point that a shot was opened for. */
export function pointOf(opened: EntryBodies["shot-opened"]): TestPoint {
  return {
    limitSet: opened.limitSet,
    row: opened.row,
    loading: opened.loading,
    targetAmps: opened.targetAmps,
  };
}

/**
 * Reading and verdict of a shot, from what is stored and nothing else: the same stored bytes give the same result on every
 * machine. Used when a shot is closed and whenever it is derived again.
 */
export function deriveShot(
  opened: EntryBodies["shot-opened"],
  ending: ShotEnding,
  stored: Pick<ShotSignal, "runs" | "events" | "raw">,
): { reading: Reading; verdict: Verdict } {
  const { basis, row } = opened;
  const reading = readShot(
    { ...stored, rigResult: ending.rigResult, hostEnd: ending.hostEnd },
    {
      ratedAmps: opened.ratedAmps,
      targetAmps: opened.targetAmps,
      basis,
      calibrationPastDue: basis.pastDue === true,
      ambientCelsius: ending.ambientCelsius,
      ambientRange: row.ambient,
      sensitivity: firstOrderThermal(basis.pickup),
      regulationPercent: basis.regulationPercent,
      endAtSeconds: opened.endAtSeconds,
      lineHz: opened.rig.lineHz,
      ...(row.start === "cold" && opened.coldness !== undefined ? { coldness: opened.coldness.verdict } : {}),
    },
  );
  return { reading, verdict: verdictOf(opened, reading) };
}

function verdictOf(opened: EntryBodies["shot-opened"], reading: Reading): Verdict {
  const { basis, choice, confirmed, ratedAmps, targetAmps } = opened;
  const expandedAt = (limitSeconds: number, multiple: number) =>
    expandedAtLimit(limitSeconds, multiple, basis, firstOrderThermal(basis.pickup), opened.rig.lineHz);
  if (choice?.by === "band") {
    const { band } = choice;
    const amps = reading.effectiveAmps > 0 ? reading.effectiveAmps : targetAmps;
    const edges = bandAt(band, inBandUnit(band, amps, ratedAmps));
    const verdict = judgeReadingByBand(reading, band, opened, opened.rule, {
      confirmed,
      expandedAtLimit: edges === null ? null : expandedAt(edges.maxSeconds, amps / ratedAmps),
    });
    return { ...verdict, reasons: [...verdict.reasons, choice.words] };
  }
  const verdict = judgeReading(reading, pointOf(opened), opened.rule, {
    confirmed,
    limitIncludesGuardBand: opened.limitIncludesGuardBand,
    expandedAtLimit: expandedAt(decidingSeconds(opened.row.requirement), opened.row.multiple),
  });
  return choice === undefined ? verdict : { ...verdict, reasons: [...verdict.reasons, choice.words] };
}
