import { readFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { combine, coverageFactor } from "../../../src/core/signal/gum.ts";

interface GumRecord {
  id: string;
  inputs: { contributions: number[]; degrees_of_freedom: (number | string)[]; coverage_probability: number };
  outputs: Record<string, number | string>;
  tol: number;
}
const file = join(import.meta.dirname, "../../fixtures/reference/gum.json");
const { records } = JSON.parse(readFileSync(file, "utf8")) as { records: GumRecord[] };

describe("reference records computed with R 4.2.2", () => {
  it("are there", () => expect(records.length).toBeGreaterThanOrEqual(5));

  it.each(records.map((record) => [record.id, record] as const))("%s", (_, { inputs, outputs, tol }) => {
    const found = combine({ ...inputs, degrees_of_freedom: inputs.degrees_of_freedom.map(Number) });
    for (const [key, value] of Object.entries(outputs)) {
      const expected = Number(value);
      const actual = found[key as keyof typeof found];
      if (Number.isFinite(expected)) expect(Math.abs(actual / expected - 1)).toBeLessThanOrEqual(tol);
      else expect(actual).toBe(expected);
    }
  });
});

describe("JCGM 100:2008", () => {
  it("G.4.1, three relative uncertainties: u_c 1.03 %, nu_eff 19.0, U 2.2 % (inputs from memory)", () => {
    const found = combine({
      contributions: [0.25, 0.57, 0.82],
      degrees_of_freedom: [9, 4, 14],
      coverage_probability: 0.95,
    });
    expect(found.u_c).toBeCloseTo(1.029466, 6);
    expect(found.nu_eff).toBeCloseTo(18.9987, 4);
    expect(found.nu_eff_truncated).toBe(18);
    // The document rounds 18.9987 to 19 and prints 2.09 and 2.2 %.
    expect(coverageFactor(19, 0.95)).toBeCloseTo(2.09302, 5);
    expect(coverageFactor(19, 0.95) * found.u_c).toBeCloseTo(2.1547, 4);
  });

  it("H.1, end gauge: u_c 32 nm, nu_eff 16.7 so 16, t99 2.92, U 93 nm (inputs from memory)", () => {
    const found = combine({
      contributions: [25, 9.7, 2.9, 16.6],
      degrees_of_freedom: [18, 25.6, 50, 2],
      coverage_probability: 0.99,
    });
    expect(found.u_c).toBeCloseTo(31.6711, 4);
    expect(found.nu_eff).toBeCloseTo(16.7646, 4);
    expect(found.nu_eff_truncated).toBe(16);
    expect(found.k_truncated).toBeCloseTo(2.92078, 5);
    expect(found.k_truncated * Math.round(found.u_c)).toBeCloseTo(93.465, 3);
  });

  it.each([
    [1, 13.97],
    [2, 4.53],
    [3, 3.31],
    [4, 2.87],
    [5, 2.65],
    [8, 2.37],
    [10, 2.28],
    [20, 2.13],
    [50, 2.05],
  ])("table of coverage factors at 95.45 %%, as in EA-4/02 E.1: nu %s has k %s", (nu, k) => {
    expect(coverageFactor(nu, 0.9545)).toBeCloseTo(k, 2);
  });
});

describe("laws", () => {
  const positive = fc.double({ min: 1e-9, max: 1e6, noNaN: true });
  const freedoms = fc.oneof(fc.integer({ min: 1, max: 200 }), fc.constant(Number.POSITIVE_INFINITY));
  const parts = fc.array(fc.tuple(positive, freedoms), { minLength: 1, maxLength: 8 });

  it("effective degrees of freedom lie between the smallest and the sum of all", () => {
    fc.assert(
      fc.property(parts, (all) => {
        const nus = all.map(([, nu]) => nu);
        const { nu_eff } = combine({
          contributions: all.map(([u]) => u),
          degrees_of_freedom: nus,
          coverage_probability: 0.9545,
        });
        expect(nu_eff).toBeGreaterThanOrEqual(Math.min(...nus) * (1 - 1e-9));
        expect(nu_eff).toBeLessThanOrEqual(nus.reduce((sum, nu) => sum + nu, 0) * (1 + 1e-9));
      }),
    );
  });

  it("scaling every contribution scales u and U and leaves the degrees of freedom", () => {
    fc.assert(
      fc.property(parts, (all) => {
        const at = (factor: number) =>
          combine({
            contributions: all.map(([u]) => u * factor),
            degrees_of_freedom: all.map(([, nu]) => nu),
            coverage_probability: 0.95,
          });
        expect((at(1e-9).u_c / at(1).u_c) * 1e9).toBeCloseTo(1, 9);
        const [small, one] = [at(1e-9).nu_eff, at(1).nu_eff];
        expect(small === one || Math.abs(small / one - 1) < 1e-9).toBe(true);
      }),
    );
  });

  it("a single contribution keeps its whole number of degrees of freedom, though fourth powers round", () => {
    for (let nu = 1; nu <= 200; nu += 1) {
      for (const u of [0.1, 0.3, 0.7, 1.1]) {
        const found = combine({ contributions: [u], degrees_of_freedom: [nu], coverage_probability: 0.95 });
        expect(found.nu_eff_truncated).toBe(nu);
      }
    }
  });

  it("no uncertainty at all combines to none", () => {
    const found = combine({ contributions: [0, 0], degrees_of_freedom: [3, 5], coverage_probability: 0.95 });
    expect(found).toMatchObject({ u_c: 0, nu_eff: Number.POSITIVE_INFINITY, U_truncated: 0 });
  });
});

describe("refusals", () => {
  const good = { contributions: [1, 2], degrees_of_freedom: [3, 4], coverage_probability: 0.95 };
  it.each([
    [{ contributions: [], degrees_of_freedom: [] }, "found none"],
    [{ contributions: [1] }, "found 2"],
    [{ contributions: [1, -2] }, "contribution 2 to be zero or more but found -2"],
    [{ contributions: [1, Number.NaN] }, "found NaN"],
    [{ degrees_of_freedom: [0.5, 4] }, "degrees of freedom 1 to be 1 or more but found 0.5"],
    [{ degrees_of_freedom: [3, Number.NaN] }, "found NaN"],
    [{ coverage_probability: 1 }, "coverage probability"],
    [{ coverage_probability: 0 }, "coverage probability"],
  ])("%o", (change, words) => {
    expect(() => combine({ ...good, ...change })).toThrow(words);
    expect(() => combine({ ...good, ...change })).toThrow(RangeError);
  });
});
