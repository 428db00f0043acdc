import { describe, it } from "vitest";
import { conditionalOddsRatio } from "../../src/core/stats/conditional-odds-ratio.ts";
import { fisherExact } from "../../src/core/stats/fisher-exact.ts";
import { expectPrinted } from "./printed.ts";

// Fisher R A (1935) The Design of Experiments, the lady tasting tea, as worked in Agresti A (1990) Categorical Data Analysis, p. 61

describe("Fisher's tea tasting, values from memory", () => {
  const groups = { x1: 3, n1: 4, x2: 1, n2: 4 };

  it("p-values", () => {
    expectPrinted(fisherExact(groups).greater, "0.2429");
    expectPrinted(fisherExact(groups).twoSided, "0.4857");
  });

  it("conditional odds ratio: quoted as 6.408309 from a root-finder that stops early; the root is 6.4083197", () => {
    expectPrinted(conditionalOddsRatio(groups, 0.95).estimate, "6.4083197");
  });

  it("upper limit: often quoted as 621.93, wrong in its third digit for the same reason; the root is 626.2435", () => {
    expectPrinted(conditionalOddsRatio(groups, 0.95).upper, "626.2435");
  });
});
