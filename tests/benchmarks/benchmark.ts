/** What one benchmark found: figures in words, and whether its target was met in this run. */
export interface BenchmarkResult {
  figures: string;
  met: boolean;
}

/** One benchmark: a ratio to a baseline measured in the same run, never a bare time. */
export interface Benchmark {
  name: string;
  target: string;
  measure(): Promise<BenchmarkResult> | BenchmarkResult;
}

/** Seconds of the fastest of `repeats` runs: the least disturbed by other work on the machine. */
export function fastestSeconds(repeats: number, run: () => void): number {
  let best = Number.POSITIVE_INFINITY;
  for (let i = 0; i < repeats; i += 1) {
    const start = process.hrtime.bigint();
    run();
    best = Math.min(best, Number(process.hrtime.bigint() - start) / 1e9);
  }
  return best;
}
