import { describe, expect, it } from "vitest";
import { pickupAtAmbient } from "../../../src/core/thermal/ambient-correction.ts";

describe("pickupAtAmbient", () => {
  // Factors that follow from one maker's public table (about 6 % per 10 K above 30 degrees C, a rise of 83 K); computed, not printed.
  it.each([
    [-5, 1.192],
    [10, 1.114],
    [30, 1],
    [40, 0.938],
    [50, 0.871],
    [60, 0.799],
  ])("from 30 °C to %d °C the factor is %f", (ambient, factor) => {
    expect(pickupAtAmbient(1, 30, ambient, 83)).toBeCloseTo(factor, 3);
  });

  it("agrees with the ambient points of IEC 60898-1: 1.45 at 30 °C is below 1.9 at -5 °C, 1.13 above 1.00 at 40 °C", () => {
    expect(pickupAtAmbient(1.45, 30, -5)).toBeLessThan(1.9);
    expect(pickupAtAmbient(1.13, 30, 40)).toBeGreaterThan(1);
  });

  it("undoes itself, and falls as it grows warmer", () => {
    const warm = pickupAtAmbient(1.2, 25, 45, 83);
    expect(pickupAtAmbient(warm, 45, 25, 83 - 20)).toBeCloseTo(1.2, 12);
    expect(warm).toBeLessThan(1.2);
  });

  it("refuses an ambient at the trip temperature and what is not positive", () => {
    expect(() => pickupAtAmbient(1.2, 30, 113)).toThrow(
      "below the trip temperature of 113 °C but found 113 °C",
    );
    expect(() => pickupAtAmbient(0, 30, 40)).toThrow("found 0");
    expect(() => pickupAtAmbient(1.2, 30, 40, -1)).toThrow("found -1");
  });
});
