import { spawnSync } from "node:child_process";

const absent = spawnSync("socat", ["-V"]).error !== undefined;

/** Why tests over a pseudo-terminal cannot be run here; false if they can. Told loudly, since they matter. */
export const withoutSocat: string | false = absent
  ? "socat is not installed: tests over a real pseudo-terminal are LEFT OUT"
  : false;

if (withoutSocat !== false) process.stderr.write(`\n!!! ${withoutSocat} !!!\n`);
