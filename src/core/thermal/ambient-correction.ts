/**
 * Rise of the bimetal at its trip temperature over the reference ambient, kelvin, where none is known: follows from one
 * maker's public table of about 6 % lower rating per 10 K. A working value of ours; compensated and electronic trips have none.
 */
export const usualTripRise = 83;

/**
 * The pick-up at another ambient: mt(Ta) = mt,ref sqrt((Ttrip - Ta) / (Ttrip - Tref)), since heat goes with the square of the
 * current and only the rise from ambient to the trip temperature has to be made up.
 *
 * Source: heat balance of a bimetal (textbook). Checked against factors of one maker's table in
 * tests/core/thermal/ambient-correction.test.ts.
 *
 * @param pickup at the reference ambient, times rating
 * @param tripRise trip temperature less reference ambient, kelvin
 * @throws RangeError if the pick-up or the rise is not positive, or the ambient is not below the trip temperature
 */
export function pickupAtAmbient(
  pickup: number,
  referenceCelsius: number,
  ambientCelsius: number,
  tripRise = usualTripRise,
): number {
  if (!(pickup > 0)) throw new RangeError(`Expected a pick-up above 0 but found ${pickup}`);
  if (!(tripRise > 0)) throw new RangeError(`Expected a trip rise above 0 K but found ${tripRise}`);
  const left = tripRise - (ambientCelsius - referenceCelsius);
  if (!(left > 0)) {
    throw new RangeError(
      `Expected an ambient below the trip temperature of ${referenceCelsius + tripRise} °C but found ${ambientCelsius} °C`,
    );
  }
  return pickup * Math.sqrt(left / tripRise);
}
