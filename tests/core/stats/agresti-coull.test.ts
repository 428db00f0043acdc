import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { agrestiCoull } from "../../../src/core/stats/agresti-coull.ts";
import { wilson } from "../../../src/core/stats/wilson.ts";
import { expectRelative } from "./close-to.ts";
import { level, sample } from "./samples.ts";

describe("agrestiCoull", () => {
  it("is centred where Wilson's is, and never narrower before clipping (Agresti & Coull 1998)", () => {
    fc.assert(
      fc.property(sample, level, ({ k, n }, confidence) => {
        const one = agrestiCoull(k, n, confidence);
        const { lower, upper } = wilson(k, n, confidence);
        expectRelative(one.centre, (lower + upper) / 2, 1e-12);
        expect(one.lower).toBeLessThanOrEqual(lower + 1e-15);
        expect(one.upper).toBeGreaterThanOrEqual(upper - 1e-15);
      }),
    );
  });

  it("is clipped to [0, 1]", () => {
    expect(agrestiCoull(0, 10, 0.95).lower).toBe(0);
    expect(agrestiCoull(10, 10, 0.95).upper).toBe(1);
  });
});
