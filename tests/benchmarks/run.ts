import { readdirSync } from "node:fs";
import type { Benchmark } from "./benchmark.ts";

/** Runs every `*.benchmarks` file beside this one and prints a line for each; exit 1 where a target was missed. */
const files = readdirSync(import.meta.dirname).filter((name) => /\.benchmarks\.(js|ts)$/.test(name));
let missed = 0;
for (const file of files.sort()) {
  const { benchmarks } = (await import(`./${file}`)) as { benchmarks: Benchmark[] };
  for (const benchmark of benchmarks) {
    const result = await benchmark.measure();
    if (!result.met) missed += 1;
    console.log(
      `${result.met ? "met   " : "MISSED"} ${benchmark.name}: ${result.figures} (target: ${benchmark.target})`,
    );
  }
}
process.exitCode = missed === 0 ? 0 : 1;
