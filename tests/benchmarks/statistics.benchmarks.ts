import { execFileSync } from "node:child_process";
import { existsSync } from "node:fs";
import { binomialNormal } from "../../src/core/stats/binomial-normal.ts";
import { clopperPearson } from "../../src/core/stats/clopper-pearson.ts";
import { kaplanMeier } from "../../src/core/stats/kaplan-meier.ts";
import { poolableLogits } from "../../src/core/stats/logit-effects.ts";
import { poolEffects } from "../../src/core/stats/pool-effects.ts";
import { survivalLimits } from "../../src/core/stats/survival-limits.ts";
import { type Benchmark, type BenchmarkResult, fastestSeconds } from "./benchmark.ts";

/** A whole-numbered stream that is the same in every run and in R: Lehmer's minimal standard generator. */
function* lehmer(seed: number): Generator<number> {
  let state = seed;
  for (;;) {
    state = (state * 48271) % 2147483647;
    yield state;
  }
}

function take(count: number, below: number, seed: number): number[] {
  const stream = lehmer(seed);
  return Array.from({ length: count }, () => (stream.next().value as number) % below);
}

/** The same stream in R, for lists too long to write out. */
const lehmerInR = `take <- function(count, below, seed) {
  state <- seed; out <- numeric(count)
  for (i in seq_len(count)) { state <- (state * 48271) %% 2147483647; out[i] <- state %% below }
  out }`;

const inR = (list: readonly number[]) => `c(${list.join(",")})`;

/** Seconds of the fastest of `repeats` runs of `expression` in R, its start not counted; null where R or a package is not there. */
function secondsInR(prepare: string, expression: string, repeats: number): number | null {
  if (!existsSync("/usr/bin/Rscript")) return null;
  const script = `suppressWarnings(suppressMessages({${prepare}}));
    best <- Inf
    for (i in 1:${repeats}) { started <- proc.time()[["elapsed"]]; for (j in 1:10) invisible(suppressWarnings(${expression})); best <- min(best, (proc.time()[["elapsed"]] - started) / 10) }
    cat(format(best, digits = 10))`;
  try {
    return Number(
      execFileSync("Rscript", ["-"], { encoding: "utf8", input: script, stdio: ["pipe", "pipe", "ignore"] }),
    );
  } catch {
    return null;
  }
}

function against(ours: number, theirs: number | null, what: string): BenchmarkResult {
  const figure = `${(ours * 1000).toPrecision(3)} ms`;
  if (theirs === null) return { figures: `${figure}; no comparison: R with ${what} is not there`, met: true };
  return {
    figures: `${figure} against ${(theirs * 1000).toPrecision(3)} ms in R, ${(theirs / ours).toPrecision(3)} times as fast`,
    met: ours < theirs,
  };
}

const studies = (count: number) => {
  const n = take(count, 300, 11).map((value) => value + 40);
  const k = take(count, 997, 23).map((value, i) => Math.floor(((n[i] ?? 0) * value) / 4000));
  return { n, k, list: n.map((size, i) => ({ k: k[i] ?? 0, n: size })) };
};

const target = "faster than R in the same run";

export const benchmarks: Benchmark[] = [
  {
    name: "1000 Clopper-Pearson intervals",
    target,
    measure: () => {
      const n = take(1000, 500, 7).map((value) => value + 1);
      const k = take(1000, 1000003, 5).map((value, i) => value % ((n[i] ?? 1) + 1));
      const ours = fastestSeconds(5, () => {
        for (let i = 0; i < 1000; i += 1) clopperPearson(k[i] ?? 0, n[i] ?? 1, 0.95);
      });
      const theirs = secondsInR(
        `k <- ${inR(k)}; n <- ${inR(n)}`,
        "for (i in 1:1000) binom.test(k[i], n[i])$conf.int",
        2,
      );
      return against(ours, theirs, "stats");
    },
  },
  {
    name: "REML over 200 studies",
    target,
    measure: () => {
      const { k, n, list } = studies(200);
      const ours = fastestSeconds(10, () => {
        poolEffects(poolableLogits(list), "REML", 0.95);
      });
      const theirs = secondsInR(
        `library(metafor); k <- ${inR(k)}; n <- ${inR(n)}`,
        'rma(xi = k, ni = n, measure = "PLO", method = "REML")',
        3,
      );
      return against(ours, theirs, "metafor");
    },
  },
  {
    name: "binomial-normal mixed model over 8 studies",
    target,
    measure: () => {
      const { k, n, list } = studies(8);
      const ours = fastestSeconds(5, () => {
        binomialNormal(list, 0.95);
      });
      const theirs = secondsInR(
        `library(metafor); library(lme4); k <- ${inR(k)}; n <- ${inR(n)}`,
        'rma.glmm(xi = k, ni = n, measure = "PLO")',
        2,
      );
      return against(ours, theirs, "metafor and lme4");
    },
  },
  {
    name: "Kaplan-Meier over 100,000 rows",
    target,
    measure: () => {
      const time = take(100_000, 7200, 3).map((value) => value + 1);
      const status = take(100_000, 10, 9).map((value) => (value < 7 ? 1 : 0));
      const observations = time.map((at, i) => ({ time: at, event: status[i] === 1 }));
      const ours = fastestSeconds(5, () => {
        survivalLimits(kaplanMeier(observations), 0.95, "log-log");
      });
      const theirs = secondsInR(
        `library(survival); ${lehmerInR}; t <- take(100000, 7200, 3) + 1; s <- ifelse(take(100000, 10, 9) < 7, 1, 0)`,
        'survfit(Surv(t, s) ~ 1, conf.type = "log-log")',
        2,
      );
      return against(ours, theirs, "survival");
    },
  },
];
