import type { EntryBodies } from "../contract/ledger-entries.ts";
import { judgeReading } from "../core/limits/judge-reading.ts";
import type { TestPoint } from "../core/limits/limit-set.ts";
import type { Verdict } from "../core/limits/verdict.ts";
import { readShot } from "../core/signal/read-shot.ts";
import type { Reading } from "../core/signal/reading.ts";
import { firstOrderThermal } from "../core/signal/sensitivity.ts";
import type { HostEnd, RigResult, ShotSignal } from "../core/signal/shot-signal.ts";

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
      ambientCelsius: ending.ambientCelsius,
      ambientRange: row.ambient,
      sensitivity: firstOrderThermal(basis.pickup),
      regulationPercent: basis.regulationPercent,
      endAtSeconds: opened.endAtSeconds,
      lineHz: opened.rig.lineHz,
    },
  );
  return {
    reading,
    verdict: judgeReading(reading, pointOf(opened), opened.rule, {
      confirmed: opened.confirmed,
      limitIncludesGuardBand: opened.limitIncludesGuardBand,
    }),
  };
}
