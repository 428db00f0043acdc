import { roundSignificant } from "../units/round.ts";
import { cycleMeans, halfCycleRms, type RawValues } from "./half-cycle-rms.ts";
import type { OnsetTransient } from "./reading.ts";

const mostCycles = 5;
/** Fraction of the target from which on the onset's ramp counts as over. */
const rampEnd = 0.9;

/**
 * What instantaneous current shows of the first cycles after the onset: peak, direct-current offset, half-cycle RMS and the
 * time of the ramp. The offset matters because a magnetic trip follows the peak.
 *
 * @param raw instantaneous current in amperes
 * @param onsetSeconds onset after the first value
 * @throws RangeError as `halfCycleRms`, or if the target is not above zero
 */
export function onsetTransient(
  raw: RawValues,
  lineHz: number,
  onsetSeconds: number,
  targetAmps: number,
): OnsetTransient {
  if (!(targetAmps > 0)) throw new RangeError(`expected a target above zero but found ${targetAmps}`);
  const halves = halfCycleRms(raw, lineHz, onsetSeconds).slice(0, 2 * mostCycles);
  const reached = halves.findIndex((amps) => amps >= rampEnd * targetAmps);
  let peak = 0;
  for (let i = 0; i < raw.values.length; i += 1) peak = Math.max(peak, Math.abs(raw.values[i] ?? 0));
  return {
    peakAmps: roundSignificant(peak),
    dcOffsetAmps: cycleMeans(raw, lineHz, onsetSeconds).slice(0, mostCycles).map(rounded),
    halfCycleAmps: halves.map(rounded),
    rampSeconds: reached === -1 ? null : roundSignificant((reached + 1) / (2 * lineHz)),
  };
}

const rounded = (value: number) => roundSignificant(value, 9);
