import type { PoolModel } from "../../src/contract/studies.ts";

/** The models in words, the recommended one first. */
export const modelNames: Readonly<Record<PoolModel, string>> = {
  glmm: "binomial-normal mixed model (recommended)",
  reml: "random effects, REML",
  dl: "random effects, DerSimonian-Laird",
  pm: "random effects, Paule-Mandel",
  common: "common effect",
  "beta-binomial": "beta-binomial",
};
