/**
 * The time that a trip would have taken at the nominal current: t (I / I_nom)^(-slope). A calculation by a model, to stand
 * beside the observed time and never instead of it.
 *
 * Source: first order in ln I about the measured current; exact where the curve is a straight line in log-log.
 *
 * @param slope d ln t / d ln I of the model, negative
 * @throws RangeError if a current is not above zero, or `seconds` or `slope` is not finite
 */
export function timeAtNominal(seconds: number, amps: number, nominalAmps: number, slope: number): number {
  if (!(amps > 0 && nominalAmps > 0)) {
    throw new RangeError(`expected currents above zero but found ${amps} and ${nominalAmps}`);
  }
  if (!Number.isFinite(seconds) || !Number.isFinite(slope)) {
    throw new RangeError(`expected a finite time and slope but found ${seconds} and ${slope}`);
  }
  return seconds * (amps / nominalAmps) ** -slope;
}
