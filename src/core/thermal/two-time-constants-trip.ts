/** A thermal replica of two time constants: a share `weight` heats with the fast one, the rest with the slow one. */
export interface TwoTimeConstants {
  fastTauSeconds: number;
  slowTauSeconds: number;
  /** Above 0 and below 1. */
  weight: number;
  pickup: number;
}

/**
 * Time to trip at a steady multiple m after a long pre-load q, in seconds: the t at which theta(t) = q^2 + (m^2 - q^2) [w (1 - e^{-t/t1}) +
 * (1 - w)(1 - e^{-t/t2})] reaches p^2. Infinity where m does not exceed the pick-up, 0 where the pre-load alone trips.
 *
 * ln [w e^{-t/t1} + (1 - w) e^{-t/t2}] falls and is convex, so that Newton's steps from the left never pass the root.
 *
 * Source: two first-order elements in parallel (the two-body heat balance has this response to a step); for two equal time
 * constants it is the cold and hot curve of IEC 60255-149.
 *
 * @throws RangeError naming what is not accepted
 */
export function twoConstantTripSeconds(model: TwoTimeConstants, multiple: number, preload = 0): number {
  const { fastTauSeconds: fast, slowTauSeconds: slow, weight: w, pickup } = model;
  if (!(fast > 0 && slow >= fast && Number.isFinite(slow)))
    throw new RangeError(`expected 0 < fast tau <= slow tau but found ${fast} and ${slow}`);
  if (!(w > 0 && w < 1)) throw new RangeError(`expected a weight above 0 and below 1 but found ${w}`);
  if (!(pickup > 0)) throw new RangeError(`expected a pick-up above 0 but found ${pickup}`);
  if (!(multiple >= 0 && preload >= 0))
    throw new RangeError(`expected multiples of 0 or more but found ${multiple} and ${preload}`);
  if (preload >= pickup) return 0;
  if (multiple <= pickup) return Number.POSITIVE_INFINITY;
  const wanted = -Math.log1p((pickup ** 2 - preload ** 2) / (multiple ** 2 - pickup ** 2));
  let t = 0;
  for (let step = 0; step < 200; step += 1) {
    // Scaled by the slow part, so that nothing underflows late.
    const ratio = Math.exp(-t / fast + t / slow);
    const scaled = w * ratio + (1 - w);
    const value = Math.log(scaled) - t / slow - wanted;
    const slope = -((w * ratio) / fast + (1 - w) / slow) / scaled;
    const move = -value / slope;
    t = Math.max(0, t + move);
    if (Math.abs(move) <= 1e-14 * t) break;
  }
  return t;
}
