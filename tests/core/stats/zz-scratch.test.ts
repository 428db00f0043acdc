import { it } from "vitest";
import { poolingFamilies } from "../../../src/core/stats/families/pooling-families.ts";
import { survivalFamilies } from "../../../src/core/stats/families/survival-families.ts";
import { turnbull } from "../../../src/core/stats/turnbull.ts";
import { kaplanMeier } from "../../../src/core/stats/kaplan-meier.ts";
import { binomialNormal } from "../../../src/core/stats/binomial-normal.ts";
import { readFileSync } from "node:fs";
const run = (name: string, input: Record<string, unknown>) => {
  const f = [...poolingFamilies, ...survivalFamilies].find((x) => x.name === name)!;
  const t = performance.now();
  let out: unknown;
  try { out = f.compute(input); } catch (e) { out = String(e); }
  console.log(name, JSON.stringify(input).slice(0, 150), "\n ->", JSON.stringify(out).slice(0, 900), (performance.now() - t).toFixed(1), "ms");
};
it("x", () => {
  for (const s of [
    { k: [0, 0, 0], n: [10, 20, 30] }, { k: [10, 20], n: [10, 20] }, { k: [0, 20], n: [20, 20] }, { k: [4], n: [40] },
    { k: [5, 10, 15, 20, 25], n: [100, 200, 300, 400, 500] }, { k: [3, 12], n: [50, 60] }, { k: [20, 5, 0, 18], n: [20, 25, 15, 19] },
    { k: [0, 1], n: [1, 1] }, { k: [0, 1, 1, 0, 1], n: [1, 1, 1, 1, 1] }, { k: [0, 0, 0, 0, 30], n: [30, 30, 30, 30, 31] },
    { k: [12, 500, 3, 40000], n: [1000, 20000, 150, 1000000] }, { k: [0, 0, 1, 0, 0, 9], n: [50, 60, 40, 55, 70, 60] }, {k:[1,2,1,0,50],n:[1000,1000,1000,1000,1000]},
    {k:[0,2,20],n:[20,20,20]},{k:[7],n:[7]},{k:[0],n:[7]},{k:[999999,1],n:[1000000,1000000]},
  ]) {
    for (const f of ["glmm", "beta-binomial"]) run(f, { ...s, level: 0.95 });
  }
  for (const f of ["leave-one-out", "small-study", "freeman-tukey"]) { run(f, { k: [4], n: [40] }); run(f, { k: [0, 0, 0], n: [10, 20, 30] }); run(f, { k: [5, 10, 15, 20, 25], n: [100, 200, 300, 400, 500] }); }
  run("zero-cell", { k: [0, 3], n: [10, 12], add: 0, to: "only0" }); run("zero-cell", { k: [0, 3], n: [10, 12], add: 0.5, to: "never" });
  run("kaplan-meier", { time: [1, 2, 3, 4], status: [1, 1, 0, 0], level: 0.95 });
  run("kaplan-meier", { time: [5, 5, 5], status: [0, 0, 0], level: 0.95 });
  run("kaplan-meier", { time: [5, -5, 5], status: [0, 0, 0], level: 0.95 });
  run("log-rank", { time: [5, 5, 5], status: [0, 0, 0], group: [1, 1, 2] });
  run("log-rank", { time: [1, 2, 3, 4, 5, 6], status: [1, 1, 1, 1, 0, 1], group: ["a", "b", "c", "a", "b", "c"] });
  run("log-rank", { time: [1, 1], status: [1, 1], group: [1, 2] });
  for (const p of ["weibull", "lognormal"]) {
    if (p) continue; run(`parametric/${p}`, { lower: [60, 60, 60], upper: [null, null, null] });
    if (p) continue; run(`parametric/${p}`, { lower: [1, 2], upper: [1, 2] });
    if (p) continue; run(`parametric/${p}`, { lower: [8, 8.0000001, 8], upper: [8, 8.0000001, 8] });
    if (p) continue; run(`parametric/${p}`, { lower: [1e-6, 1e9, 5], upper: [1e-6, null, 6] });
    if (p) continue; run(`parametric/${p}`, { lower: [null, null, 5, 20], upper: [2, 30, null, null] });
    if (p) continue; run(`parametric/${p}`, { lower: [null, null, 5, 20], upper: [2, 3, null, null] });
    if (p) continue; run(`parametric/${p}`, { lower: [5, 20, 30, 10], upper: [5, null, 30, 20] });
    if (p) continue; run(`parametric/${p}`, { lower: [0.001, 1000, 1000, 1000, 1000, 2000], upper: [0.001, null, null, null, null, 2000] });
    if (p) continue; run(`parametric/${p}`, { lower: [10, 10, 20, 20], upper: [20, 20, 30, 30] });
    if (p) continue; run(`parametric/${p}`, { lower: [0, 10], upper: [0, 20] });
  }
  const I = Number.POSITIVE_INFINITY;
  const rad = [[45,I],[25,37],[37,I],[6,10],[46,I],[0,5],[0,7],[26,40],[18,I],[46,I],[46,I],[24,I],[46,I],[27,34],[36,I],[7,16],[36,44],[5,11],[17,I],[46,I],[19,35],[7,14],[36,48],[17,25],[37,44],[37,I],[24,I],[0,8],[40,I],[32,I],[4,11],[17,25],[33,I],[15,I],[46,I],[19,26],[11,15],[11,18],[37,I],[22,I],[38,I],[34,I],[46,I],[5,12],[36,I],[46,I]].map(([lower,upper])=>({lower:lower!,upper:upper!}));
  let t = performance.now();
  let prev = 1;
  console.log(rad.length, turnbull(rad).map((s) => { const d = prev - s.survival; prev = s.survival; return `${s.time}:${d.toFixed(6)}`; }).join(" "), performance.now() - t);
  const big = Array.from({ length: 400 }, (_, i) => { const a = (i * 7919) % 97; return { lower: a, upper: i % 3 === 0 ? I : a + 1 + ((i * 31) % 23) }; });
  t = performance.now(); const b = turnbull(big); console.log("turnbull 400", b.length, performance.now() - t);
  const obs = Array.from({ length: 100000 }, (_, i) => ({ time: ((i * 7919) % 100003) / 7, event: i % 3 !== 0 }));
  for (let r = 0; r < 3; r++) { t = performance.now(); kaplanMeier(obs); console.log("km", performance.now() - t); }
  const j = JSON.parse(readFileSync("tests/fixtures/reference/pool-logit.json", "utf8")).records.find((r: any) => r.id.includes("REML/J200"));
  for (let r = 0; r < 3; r++) run("pool-logit", j.inputs);
  for (let r = 0; r < 3; r++) { t = performance.now(); binomialNormal([0, 2, 5, 1, 12, 0, 3, 7].map((k, i) => ({ k, n: [12, 45, 120, 30, 210, 8, 64, 95][i]! })), 0.95); console.log("glmm8 b", performance.now() - t); }
  for (let r = 0; r < 3; r++) { t = performance.now(); binomialNormal([1,50,3,90,20].map((k, i) => ({ k, n: [100,100,120,110,90][i]! })), 0.95); console.log("glmm5", performance.now() - t); }
}, 60000);
