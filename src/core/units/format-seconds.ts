/**
 * A time for a reader, with the digits that matter at its size: `0.0853 s`, `24.03 s`, `7 min 12 s`, `1 h 05 min`, from two days on
 * `3 d 04 h`.
 *
 * Seconds up to two minutes, because published limits are given so; four significant digits, never finer than 0.1 ms.
 *
 * @throws RangeError if `seconds` is negative or not finite
 */
export function formatSeconds(seconds: number): string {
  if (!Number.isFinite(seconds) || seconds < 0) {
    throw new RangeError(`expected seconds to be zero or more but found ${seconds}`);
  }
  // The unit is chosen after rounding, so that 119.996 s reads 120 s and 7199.9 s reads 2 h.
  if (Number(seconds.toPrecision(4)) <= 120) return `${fourDigits(seconds)} s`;
  const whole = Math.round(seconds);
  if (whole < 7200) return joined(Math.floor(whole / 60), "min", whole % 60, "s");
  const minutes = Math.round(seconds / 60);
  const hours = Math.round(seconds / 3600);
  if (hours >= 48) return joined(Math.floor(hours / 24), "d", hours % 24, "h");
  return joined(Math.floor(minutes / 60), "h", minutes % 60, "min");
}

function fourDigits(seconds: number): string {
  const decimals = seconds >= 100 ? 1 : seconds >= 10 ? 2 : seconds >= 1 ? 3 : 4;
  return seconds.toFixed(decimals).replace(/\.?0+$/, "");
}

function joined(large: number, largeUnit: string, small: number, smallUnit: string): string {
  const rest = small === 0 ? "" : ` ${String(small).padStart(2, "0")} ${smallUnit}`;
  return `${large} ${largeUnit}${rest}`;
}
