import type { EntryBodies } from "../contract/ledger-entries.ts";
import { roundSignificant } from "../core/units/round.ts";

/** Expanded uncertainty of what an instrument reads, in percent for current, in seconds for time, with how it came about. */
export interface CalibratedUncertainty {
  expanded: number;
  /** Largest deviation among the points, without sign, in the same unit; it is part of `expanded`. */
  deviation: number;
}

/**
 * The uncertainty that a certificate leaves to a reading that is not corrected for the deviations found: U of the certificate,
 * or where it gives none the largest U of its points, plus the largest deviation of its points without sign. Null where it says
 * neither.
 *
 * Source: JCGM 100:2008, F.2.4.5 (where no correction is applied, the known deviation is added to U).
 */
export function calibratedUncertainty(
  record: Pick<
    EntryBodies["calibration-recorded"],
    "quantity" | "points" | "expandedPercent" | "expandedSeconds"
  >,
): CalibratedUncertainty | null {
  const { quantity, points } = record;
  if (quantity === "temperature") return null;
  const scaled = (amount: number, value: number) =>
    quantity === "current" ? (100 * Math.abs(amount)) / value : Math.abs(amount);
  const given = quantity === "current" ? record.expandedPercent : record.expandedSeconds;
  if (given === null && points.length === 0) return null;
  const deviation = Math.max(0, ...points.map((point) => scaled(point.deviation, point.value)));
  const own = given ?? Math.max(...points.map((point) => scaled(point.expanded, point.value)));
  return { expanded: roundSignificant(own + deviation), deviation: roundSignificant(deviation) };
}
