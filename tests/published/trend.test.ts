import { describe, it } from "vitest";
import { cochranArmitage } from "../../src/core/stats/cochran-armitage.ts";
import { expectPrinted } from "./printed.ts";

const groups = (x: readonly number[], n: readonly number[], scores: readonly number[]) =>
  x.map((count, i) => ({ x: count, n: n[i] ?? 0, score: scores[i] ?? 0 }));

describe("trend, values from memory", () => {
  it("Fleiss J L (1981) Statistical Methods for Rates and Proportions: smokers among patients of four studies", () => {
    const trend = cochranArmitage(groups([83, 90, 129, 70], [86, 93, 136, 82], [1, 2, 3, 4]));
    expectPrinted(trend?.chiSquare, "8.2249");
    expectPrinted(trend?.pTwoSided, "0.004132");
  });

  it("Agresti A (1990): malformation by alcohol, whose M² has N - 1 where this test has N", () => {
    const n = [17114, 14502, 793, 127, 38];
    const total = n.reduce((sum, one) => sum + one, 0);
    const trend = cochranArmitage(groups([48, 38, 5, 1, 1], n, [0, 0.5, 1.5, 4, 7]));
    expectPrinted(((trend?.chiSquare ?? 0) * (total - 1)) / total, "6.57");
  });
});
