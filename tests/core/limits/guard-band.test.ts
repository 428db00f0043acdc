import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { conformance } from "../../../src/core/limits/conformity.ts";
import { guardBand } from "../../../src/core/limits/guard-band.ts";
import { expectClose, referenceRecords } from "./reference-records.ts";

describe("guardBand", () => {
  // qnorm, and the root of p_c(y) = p, in R 4.2.2.
  it.each(referenceRecords("guard-band"))("$id", ({ inputs, outputs }) => {
    const found = guardBand(inputs as unknown as Parameters<typeof guardBand>[0]) as Record<string, unknown>;
    for (const [key, expected] of Object.entries(outputs)) {
      const values = [found[key]].flat() as number[];
      for (const [at, value] of [expected].flat().entries())
        expectClose(values[at] ?? Number.NaN, value, 1e-10);
    }
  });

  it("has no acceptance interval where even the middle falls short", () => {
    expect(guardBand({ p_c: 0.95, u: 0.6, T_L: 9, T_U: 11 }).acceptance).toBeNull();
    expect(guardBand({ p_c: 0.95, u: 0.5, T_L: 9, T_U: 11 }).acceptance).not.toBeNull();
  });

  it("puts the wanted probability exactly on the ends of the interval", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 0.999, noNaN: true }),
        fc.double({ min: 0.01, max: 2, noNaN: true }),
        (p_c, u) => {
          const { acceptance } = guardBand({ p_c, u, T_L: 9, T_U: 11 });
          for (const y of acceptance ?? [])
            expect(conformance({ y, u, T_L: 9, T_U: 11 }).p_c).toBeCloseTo(p_c, 9);
        },
      ),
    );
  });

  it("agrees with one-sided conformance at its own limit", () => {
    const { g } = guardBand({ p_c: 0.999, u: 0.3 });
    expect(conformance({ y: 50 - g, u: 0.3, T_L: Number.NEGATIVE_INFINITY, T_U: 50 }).p_c).toBeCloseTo(
      0.999,
      12,
    );
  });

  it.each([
    [{ p_c: 0, u: 1 }, /probability/],
    [{ p_c: 1, u: 1 }, /probability/],
    [{ p_c: 0.9, u: 0 }, /u must be positive but is 0/],
    [{ p_c: 0.9, u: 1, T_L: 1 }, /both be given/],
    [{ p_c: 0.9, u: 1, T_L: 2, T_U: 1 }, /T_L must be below T_U/],
  ])("throws on %o", (inputs, words) => {
    expect(() => guardBand(inputs)).toThrow(words);
  });
});
