import { describe, expect, it } from "vitest";
import { formatPercent } from "../../../src/core/units/format-percent.ts";

describe("formatPercent", () => {
  it.each([
    [0, "0 %"],
    [1, "100 %"],
    [0.375, "37.5 %"],
    [0.0012, "0.12 %"],
    [2 / 3, "66.7 %"],
    [0.95, "95 %"],
    [1e-12, "below 0.000001 %"],
  ])("%f reads %s", (rate, words) => {
    expect(formatPercent(rate)).toBe(words);
  });

  it("never lets what is not all read as all", () => {
    expect(formatPercent(0.99999)).toBe("above 99.9 %");
  });

  it.each([-0.1, 1.1, Number.NaN])("refuses %f", (rate) => {
    expect(() => formatPercent(rate)).toThrow("from 0 to 1");
  });
});
