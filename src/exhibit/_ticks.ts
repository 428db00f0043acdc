/** Round numbers of a logarithmic axis within a range, the more welcome first: powers of ten, then twos and fives, then the rest. */
export function roundLogValues([low, high]: readonly [number, number]): number[] {
  const first = Math.floor(Math.log10(low));
  const last = Math.ceil(Math.log10(high));
  const decades = Array.from({ length: last - first + 1 }, (_, i) => first + i);
  return [1, 2, 5, 3, 4, 6, 8, 1.5, 7, 9]
    .flatMap((digit) => decades.map((decade) => Number(`${digit}e${decade}`)))
    .filter((value) => value >= low && value <= high);
}

/** Times at which a logarithmic time axis has its words, the more welcome first. */
const roundSeconds = [
  1, 60, 3600, 10, 0.1, 0.01, 0.001, 600, 21_600, 86_400, 0.0001, 7200, 120, 300, 1800, 30, 2, 5, 20, 0.02,
  0.05, 0.2, 0.5, 0.002, 0.005,
];

/** Round times within a range, the more welcome first. */
export function roundTimes([low, high]: readonly [number, number]): number[] {
  return roundSeconds.filter((value) => value >= low && value <= high);
}

/** A round time in the unit that people use for it. */
export function timeWords(seconds: number): string {
  if (seconds >= 3600) return `${Number((seconds / 3600).toFixed(2))} h`;
  return seconds >= 60 ? `${Number((seconds / 60).toFixed(2))} min` : `${Number(seconds.toPrecision(4))} s`;
}

/** A part of one in percent with the digits that its size needs: `12.5 %`, `0.25 %`. */
export function percentWords(part: number): string {
  const percent = part * 100;
  const decimals = percent !== 0 && Math.abs(percent) < 0.995 ? 2 : 1;
  return `${Number(percent.toFixed(decimals))} %`;
}

/** Steps of a linear time axis, in seconds, so that minutes and hours are cut into round parts. */
const timeSteps = [
  0.0001, 0.0002, 0.0005, 0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 30, 60, 120,
  300, 600, 1200, 1800, 3600, 7200, 14_400, 36_000, 86_400, 172_800, 432_000, 864_000,
];

/** Round times of a linear axis, about `count` of them, with their words in one unit for the whole axis. */
export function linearTimes(
  [low, high]: readonly [number, number],
  count: number,
): { seconds: number; label: string }[] {
  const span = high - low;
  const step =
    timeSteps.find((candidate) => span / candidate <= count) ?? 10 ** Math.ceil(Math.log10(span / count));
  const [unit, name] = span <= 240 ? [1, "s"] : span <= 14_400 ? [60, "min"] : [3600, "h"];
  const first = Math.ceil(low / step - 1e-9);
  const last = Math.floor(high / step + 1e-9);
  return Array.from({ length: last - first + 1 }, (_, i) => {
    const seconds = Number(((first + i) * step).toFixed(4));
    return { seconds, label: `${Number((seconds / unit).toFixed(4))} ${name}` };
  });
}
