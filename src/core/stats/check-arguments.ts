/**
 * Refuse counts that cannot be "k of n".
 *
 * @param where put before the message, such as "group 2: "
 * @throws RangeError unless n is a whole number of 1 or more and k a whole number from 0 to n
 */
export function checkCounts(k: number, n: number, where = ""): void {
  if (!(Number.isSafeInteger(n) && n >= 1)) {
    throw new RangeError(`${where}n must be a whole number of 1 or more but is ${n}`);
  }
  if (!(Number.isSafeInteger(k) && k >= 0 && k <= n)) {
    throw new RangeError(`${where}k must be a whole number from 0 to n = ${n} but is ${k}`);
  }
}

/** Refuse a probability that is 0, 1 or outside, such as a confidence level. @throws RangeError naming `name` */
export function checkOpenProbability(name: string, value: number): void {
  if (!(value > 0 && value < 1)) {
    throw new RangeError(`${name} must be above 0 and below 1 but is ${value}`);
  }
}

/** Refuse a value that is not a whole number of at least `least`. @throws RangeError naming `name` */
export function checkWhole(name: string, value: number, least: number): void {
  if (!(Number.isSafeInteger(value) && value >= least)) {
    throw new RangeError(`${name} must be a whole number of ${least} or more but is ${value}`);
  }
}
