import type { MeasurementBasis, RigIdentity } from "../contract/ledger-entries.ts";
import { roundSignificant } from "../core/units/round.ts";
import { calibratedUncertainty } from "./calibrated-uncertainty.ts";
import { type CalibrationRecord, calibrationInForce, dayOf } from "./calibrations.ts";
import { type Lab, uncalibratedBasis } from "./lab.ts";

/**
 * What the uncertainty of a shot rests on: the calibration records in force for the rig's serial number, and working values of
 * this program for what no record speaks of. `pastDue` is there where a record of the rig is past its due date.
 */
export function measurementBasis(
  lab: Pick<Lab, "store" | "now">,
  rig: Pick<RigIdentity, "serial" | "timerSeconds">,
  targetAmps: number,
): MeasurementBasis {
  const today = dayOf(lab.now());
  const inForce = (quantity: CalibrationRecord["quantity"]) =>
    calibrationInForce(lab, rig.serial, quantity, today);
  const [current, time, temperature] = [inForce("current"), inForce("time"), inForce("temperature")];
  const working = uncalibratedBasis(rig.timerSeconds);
  const used = [current, time, temperature].filter((record) => record !== null);
  if (used.length === 0) return working;
  const currentU = current === null ? null : calibratedUncertainty(current);
  const timeU = time === null ? null : calibratedUncertainty(time);
  const uncorrected = [currentU, timeU].some((one) => one !== null && one.deviation > 0);
  const from = [
    ...used.map((record) => certificateWords(record, today)),
    ...(current === null ? [] : rangeWords(current, targetAmps)),
    ...(uncorrected
      ? ["deviations found are not corrected for: the largest is added to U (JCGM 100, F.2.4.5)"]
      : []),
    `working values of this program: ${currentU === null ? "current 1 % (k = 2), " : ""}regulation within ${working.regulationPercent} %, pick-up ${working.pickup} times rating`,
    ...(timeU === null ? ["timer as the rig states it"] : []),
  ];
  return {
    ...working,
    ...(currentU === null || current === null
      ? {}
      : { currentPercent: currentU.expanded, currentK: current.k }),
    ...(timeU === null || time === null ? {} : { timerSeconds: roundSignificant(timeU.expanded / time.k) }),
    from: from.join("; "),
    ...(used.some((record) => record.due < today) ? { pastDue: true } : {}),
  };
}

function certificateWords(record: CalibrationRecord, today: string): string {
  const due = record.due < today ? `PAST DUE since ${record.due}` : `due ${record.due}`;
  return `${record.quantity} of ${record.instrument} ${record.serial}: certificate ${record.certificate} of ${record.issuer}, calibrated ${record.on}, ${due}`;
}

/** A certificate speaks only of the range that its points cover. */
function rangeWords({ points }: CalibrationRecord, targetAmps: number): string[] {
  const values = points.map((point) => point.value);
  const [lowest, highest] = [Math.min(...values), Math.max(...values)];
  if (points.length === 0 || (targetAmps >= lowest && targetAmps <= highest)) return [];
  return [
    `the test current of ${targetAmps} A lies outside the calibrated points, ${lowest} A to ${highest} A`,
  ];
}
