import { describe, expect, it } from "vitest";
import { clopperPearson } from "../../src/core/stats/clopper-pearson.ts";
import { expectPrinted } from "./printed.ts";

// NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.4.2: exact 90 % interval for 4 of 20

describe("NIST/SEMATECH e-Handbook 7.2.4.2, as printed", () => {
  it("lower limit", () => {
    expectPrinted(clopperPearson(4, 20, 0.9).lower, "0.071354");
  });

  it("upper limit: printed 0.401029, which is a root-finder's stop one unit high; the exact limit is 0.40102812", () => {
    const { upper } = clopperPearson(4, 20, 0.9);
    expect(Math.abs(upper - 0.401029)).toBeLessThan(1.5e-6);
    expectPrinted(upper, "0.40102812");
  });
});
