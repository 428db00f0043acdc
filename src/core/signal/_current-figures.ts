import type { Timeline } from "./_timeline.ts";
import type { Steadiness } from "./reading.ts";

/** Currents over a stretch of whole windows, in amperes. */
export interface CurrentFigures {
  effectiveAmps: number;
  /** True where no window lay wholly inside the on-time: the current was at least this. */
  lowerBound: boolean;
  /** True where the on-time is too short for an RMS value to tell how well the current was held. */
  brief: boolean;
  lowestAmps: number;
  highestAmps: number;
  /** Part of the time for which the current was outside the tolerance. */
  outsideShare: number;
  steadiness: Steadiness | null;
}

/**
 * Figures over the samples from index `from` to index `to`, both included. What is missing between them counts for nothing:
 * energy and time are summed over windows that were received.
 *
 * Sums run sample by sample in order of time, so that cutting the samples into other runs changes no bit.
 */
export function currentFigures(
  timeline: Timeline,
  from: number,
  to: number,
  targetAmps: number,
  tolerance: number,
): CurrentFigures {
  const { milliamps, startUs, endUs } = timeline;
  const lowLimit = targetAmps * 1000 * (1 - tolerance);
  const highLimit = targetAmps * 1000 * (1 + tolerance);
  const originUs = startUs[from] ?? 0;
  let energy = 0;
  let duration = 0;
  let outside = 0;
  let lowest = Number.POSITIVE_INFINITY;
  let highest = 0;
  let count = 0;
  let meanT = 0;
  let meanI = 0;
  let squaresT = 0;
  let squaresI = 0;
  let products = 0;
  for (let i = from; i <= to; i += 1) {
    const value = milliamps[i] ?? 0;
    const start = startUs[i] ?? 0;
    const step = (endUs[i] ?? 0) - start;
    energy += value * value * step;
    duration += step;
    if (value < lowLimit || value > highLimit) outside += step;
    if (value < lowest) lowest = value;
    if (value > highest) highest = value;
    // Running means (Welford 1962, Technometrics 4:419), because plain sums of squares cancel on a steady current.
    count += 1;
    const seconds = (start - originUs) / 1e6;
    const offT = seconds - meanT;
    const offI = value - meanI;
    meanT += offT / count;
    meanI += offI / count;
    squaresT += offT * (seconds - meanT);
    squaresI += offI * (value - meanI);
    products += offT * (value - meanI);
  }
  const slope = squaresT > 0 ? products / squaresT : 0;
  const residual = Math.max(0, squaresI - slope * products);
  return {
    effectiveAmps: Math.sqrt(energy / duration) / 1000,
    lowerBound: false,
    brief: false,
    lowestAmps: lowest / 1000,
    highestAmps: highest / 1000,
    outsideShare: outside / duration,
    steadiness:
      count < 3
        ? null
        : { driftAmpsPerMinute: (slope * 60) / 1000, rippleAmps: Math.sqrt(residual / (count - 2)) / 1000 },
  };
}
