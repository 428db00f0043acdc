import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { conformance } from "../../../src/core/limits/conformity.ts";
import { expectClose, referenceRecords } from "./reference-records.ts";

describe("conformance", () => {
  // pnorm of R 4.2.2; the inputs of the examples are those of JCGM 106:2012, clause 7.
  it.each(referenceRecords("conformance"))("$id", ({ inputs, outputs }) => {
    const found = conformance(inputs as unknown as Parameters<typeof conformance>[0]);
    for (const key of ["p_c", "p_nonconforming"] as const)
      expectClose(found[key], outputs[key] as number, 1e-12);
  });

  // Burst pressure of at least 490 kPa (JCGM 106:2012, clause 7): printed 0.99.
  it("of a lower limit", () => {
    const { p_c } = conformance({ y: 509.7, u: 8.6, T_L: 490, T_U: Number.POSITIVE_INFINITY });
    expect(p_c).toBeCloseTo(0.98901, 6);
  });

  // Probability of false acceptance at the acceptance limit TL - r U, U = 2 u: Phi(-2 r). ILAC-G8:09/2019 and ISO 14253-1:2017
  // print <50 %, <5 %, <2.5 %, <0.16 % and <1 ppm.
  it.each([
    [0, 0.5, 0.500001],
    [0.83, 0.048457, 0.05],
    [1, 0.02275, 0.025],
    [1.5, 0.00135, 0.0016],
    [3, 9.866e-10, 1e-6],
  ])("leaves at r = %s a risk of %s", (r, risk, printed) => {
    const { p_nonconforming } = conformance({ y: 50 - r * 2, u: 1, T_L: Number.NEGATIVE_INFINITY, T_U: 50 });
    expect(Math.abs(p_nonconforming / risk - 1)).toBeLessThan(1e-4);
    expect(p_nonconforming).toBeLessThan(printed);
  });

  it("is certain where there is no uncertainty, limits included", () => {
    const at = (y: number) => conformance({ y, u: 0, T_L: 20, T_U: 50 }).p_c;
    expect([19.99, 20, 35, 50, 50.01].map(at)).toEqual([0, 1, 1, 1, 0]);
  });

  it("keeps its digits far in a tail", () => {
    const { p_c } = conformance({ y: 0, u: 1, T_L: 10, T_U: 11 });
    // -log10 of the tail beyond 10 is 23.11805 (Abramowitz & Stegun (1964), table 26.2); that beyond 11 is 2.5e-5 of it.
    expect(-Math.log10(p_c / (1 - 2.5075e-5))).toBeCloseTo(23.11805, 5);
  });

  it("mirrors, and adds to one with its complement", () => {
    const number = fc.double({ min: -100, max: 100, noNaN: true });
    const width = fc.double({ min: 0.01, max: 50, noNaN: true });
    fc.assert(
      fc.property(number, width, number, width, (y, u, T_L, span) => {
        const one = conformance({ y, u, T_L, T_U: T_L + span });
        const mirrored = conformance({ y: -y, u, T_L: -(T_L + span), T_U: -T_L });
        expect(one.p_c).toBeCloseTo(mirrored.p_c, 12);
        expect(one.p_c + one.p_nonconforming).toBeCloseTo(1, 12);
      }),
    );
  });

  it.each([
    [{ y: Number.NaN, u: 1, T_L: 0, T_U: 1 }, /y must be a finite number but is NaN/],
    [{ y: 0, u: -1, T_L: 0, T_U: 1 }, /u must be 0 or more but is -1/],
    [{ y: 0, u: Number.NaN, T_L: 0, T_U: 1 }, /u must be/],
    [{ y: 0, u: 1, T_L: 1, T_U: 1 }, /T_L must be below T_U/],
    [{ y: 0, u: 1, T_L: Number.NaN, T_U: 1 }, /T_L must be below T_U/],
  ])("throws on %o", (inputs, words) => {
    expect(() => conformance(inputs)).toThrow(words);
  });
});
