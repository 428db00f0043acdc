/**
 * The integral of evenly spaced values from one time to another, by the trapezoidal rule, straight lines between the values.
 * For a periodic signal over whole periods the rule converges faster than any power of the step.
 *
 * @returns a function of two times in units of the step, both within 0 and the number of values less one
 */
export function windowIntegral(values: ArrayLike<number>): (from: number, to: number) => number {
  const cumulative = new Float64Array(values.length);
  for (let i = 1; i < values.length; i += 1) {
    cumulative[i] = (cumulative[i - 1] ?? 0) + ((values[i - 1] ?? 0) + (values[i] ?? 0)) / 2;
  }
  const upTo = (time: number) => {
    const index = Math.min(Math.floor(time), values.length - 2);
    const part = time - index;
    const here = values[index] ?? 0;
    const next = values[index + 1] ?? 0;
    return (cumulative[index] ?? 0) + part * here + (part * part * (next - here)) / 2;
  };
  return (from, to) => upTo(to) - upTo(from);
}
