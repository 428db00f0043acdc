import { describe, expect, it } from "vitest";
import { blandAltman } from "../../src/core/stats/bland-altman.ts";
import { repeatability } from "../../src/core/stats/repeatability.ts";
import { expectPrinted } from "./printed.ts";

// Bland J M, Altman D G (1986) Lancet i:307-310: peak expiratory flow of 17 subjects by two meters, twice each (l/min); data as
// in a public data package, printed results from memory

const large = [494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427];
const largeAgain = [490, 397, 512, 401, 470, 611, 415, 431, 638, 429, 420, 633, 275, 492, 165, 372, 421];
const mini = [512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451];
const miniAgain = [525, 415, 508, 444, 500, 625, 460, 390, 642, 432, 420, 605, 227, 467, 268, 370, 443];

describe("Bland & Altman 1986, values from memory", () => {
  const agreement = blandAltman(large, mini, 0.95);

  it("bias, scatter and the interval of the bias", () => {
    expectPrinted(agreement.bias, "-2.1");
    expectPrinted(agreement.standardDeviation, "38.8");
    // Printed as -22.0 and 17.8 from the rounded bias and scatter
    expect(Math.abs(agreement.biasInterval.lower - -22.0)).toBeLessThan(0.1);
    expectPrinted(agreement.biasInterval.upper, "17.8");
  });

  it("limits of agreement, printed with 2 for 1.96 from rounded values", () => {
    expect(Math.abs(agreement.bias - 2 * agreement.standardDeviation - -79.7)).toBeLessThan(0.1);
    expect(Math.abs(agreement.bias + 2 * agreement.standardDeviation - 75.5)).toBeLessThan(0.1);
  });

  it("repeatability, printed with 2 for 1.96 from rounded values", () => {
    const twice = (first: number[], second: number[]) =>
      2 * Math.SQRT2 * repeatability(first, second).withinStandardDeviation;
    expect(Math.abs(twice(large, largeAgain) - 43.2)).toBeLessThan(0.15);
    expect(Math.abs(twice(mini, miniAgain) - 56.4)).toBeLessThan(0.15);
  });
});
