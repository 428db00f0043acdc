import type { SampleRun } from "../core/signal/shot-signal.ts";

/**
 * Runs in order of time, contiguous ones joined. A sample that was stored twice, because it was asked for again and both
 * answers came, counts once: the run that begins first keeps it.
 */
export function mergeRuns(runs: readonly SampleRun[]): SampleRun[] {
  const groups: { firstEndUs: number; stepUs: number; count: number; parts: Int32Array[] }[] = [];
  for (const run of [...runs].sort((a, b) => a.firstEndUs - b.firstEndUs)) {
    const last = groups.at(-1);
    const lastEndUs =
      last === undefined ? Number.NEGATIVE_INFINITY : last.firstEndUs + (last.count - 1) * last.stepUs;
    const known = Math.max(0, Math.floor((lastEndUs - run.firstEndUs) / run.stepUs) + 1);
    const part = run.milliamps.subarray(known);
    if (part.length === 0) continue;
    const firstEndUs = run.firstEndUs + known * run.stepUs;
    if (last !== undefined && last.stepUs === run.stepUs && firstEndUs === lastEndUs + run.stepUs) {
      last.parts.push(part);
      last.count += part.length;
    } else {
      groups.push({ firstEndUs, stepUs: run.stepUs, count: part.length, parts: [part] });
    }
  }
  return groups.map(({ firstEndUs, stepUs, count, parts }) => ({
    firstEndUs,
    stepUs,
    milliamps: joined(parts, count),
  }));
}

function joined(parts: readonly Int32Array[], count: number): Int32Array {
  const whole = new Int32Array(count);
  let place = 0;
  for (const part of parts) {
    whole.set(part, place);
    place += part.length;
  }
  return whole;
}
