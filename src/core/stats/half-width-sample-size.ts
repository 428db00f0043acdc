import { checkOpenProbability } from "./check-arguments.ts";
import { clopperPearson } from "./clopper-pearson.ts";
import { findRoot } from "./find-root.ts";
import { betaQuantile } from "./beta-quantile.ts";
import { twoSidedNormalQuantile } from "./normal-quantile.ts";
import { smallestWhole } from "./smallest-whole.ts";

/** Sample sizes at which an interval about an assumed proportion is at most ± the wanted half-width. */
export interface HalfWidthSampleSize {
  /** Smallest n for Wilson's interval, with n p taken as the (real) count */
  wilson: number;
  wilsonHalfWidth: number;
  /** The n from which the exact interval about round(n p) is narrow enough for every larger n too */
  clopperPearsonPersistent: number;
}
