import { agreementFamilies } from "./families/agreement-families.ts";
import { clusterFamilies } from "./families/cluster-families.ts";
import { oneProportionFamilies } from "./families/one-proportion-families.ts";
import { planningFamilies } from "./families/planning-families.ts";
import { twoGroupFamilies } from "./families/two-group-families.ts";
import type { Family } from "./family.ts";

/** Every method on proportions, counts, plans and agreement that can be computed from plain data. */
export const proportionFamilies: readonly Family[] = [
  ...oneProportionFamilies,
  ...planningFamilies,
  ...twoGroupFamilies,
  ...clusterFamilies,
  ...agreementFamilies,
];
