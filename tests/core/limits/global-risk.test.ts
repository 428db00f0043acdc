import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type GlobalRiskInputs, globalRisk } from "../../../src/core/limits/global-risk.ts";
import { expectClose, referenceRecords } from "./reference-records.ts";

describe("globalRisk", () => {
  // stats::integrate of R 4.2.2, relative tolerance 1e-12. The resistor is the example of JCGM 106:2012, clause 9.
  it.each(referenceRecords("global-risk"))("$id", ({ inputs, outputs }) => {
    const found = globalRisk(inputs as unknown as GlobalRiskInputs);
    for (const key of ["global_consumer_risk", "global_producer_risk", "p_conforming", "p_accepted"] as const)
      expectClose(found[key], outputs[key] as number, 1e-9);
  });

  // Every item conforms or not, and is accepted or not: P(accepted) = P(conforming) - R_P + R_C, with P(accepted) in closed form.
  it("balances, for measurements far better and far worse than the spread of the items", () => {
    const spread = fc.double({ min: -4, max: 2, noNaN: true }).map((power) => 10 ** power);
    const place = fc.double({ min: -3, max: 3, noNaN: true });
    const width = fc.double({ min: 0.1, max: 6, noNaN: true });
    fc.assert(
      fc.property(spread, place, width, place, width, (u_m, T_L, toleranceWidth, A_L, acceptanceWidth) => {
        const found = globalRisk({
          x0: 0,
          u0: 1,
          u_m,
          T_L,
          T_U: T_L + toleranceWidth,
          A_L,
          A_U: A_L + acceptanceWidth,
        });
        const balance = found.p_conforming - found.global_producer_risk + found.global_consumer_risk;
        expect(Math.abs(balance - found.p_accepted)).toBeLessThan(1e-12);
      }),
      { numRuns: 60 },
    );
  });

  it("comes near to no risk as the measurement becomes perfect", () => {
    const limits = { x0: 0, u0: 1, T_L: -1, T_U: 1, A_L: -1, A_U: 1 };
    const risks = [0.1, 0.01, 0.001].map((u_m) => globalRisk({ ...limits, u_m }).global_consumer_risk);
    expect(risks[0]).toBeGreaterThan(5 * (risks[1] ?? 0));
    expect(risks[1]).toBeGreaterThan(5 * (risks[2] ?? 0));
  });

  it.each([
    [{ u0: 0 }, /u0 must be positive but is 0/],
    [{ u_m: Number.NaN }, /u_m must be positive/],
    [{ x0: Number.NaN }, /x0 must be a finite number/],
    [{ T_L: 2 }, /T_L must be below T_U/],
    [{ A_U: -2 }, /A_L must be below A_U/],
  ])("throws on %o", (wrong, words) => {
    const sound = { x0: 0, u0: 1, u_m: 0.1, T_L: -1, T_U: 1, A_L: -1, A_U: 1 };
    expect(() => globalRisk({ ...sound, ...wrong })).toThrow(words);
  });
});
