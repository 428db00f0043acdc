import { expect, it } from "vitest";
import { turnbull } from "../../src/core/stats/turnbull.ts";

// Finkelstein D M, Wolfe R A (1985) Biometrics 41:933-945: months to breast retraction, radiotherapy alone; null is
// right-censored. Data and the probabilities (as in Fay & Shaw 2010, J Stat Softw 36:2) from memory; that they agree speaks for both.
const months: [number, number | null][] = [
  [45, null],
  [25, 37],
  [37, null],
  [6, 10],
  [46, null],
  [0, 5],
  [0, 7],
  [26, 40],
  [18, null],
  [46, null],
  [46, null],
  [24, null],
  [46, null],
  [27, 34],
  [36, null],
  [7, 16],
  [36, 44],
  [5, 11],
  [17, null],
  [46, null],
  [19, 35],
  [7, 14],
  [36, 48],
  [17, 25],
  [37, 44],
  [37, null],
  [24, null],
  [0, 8],
  [40, null],
  [32, null],
  [4, 11],
  [17, 25],
  [33, null],
  [15, null],
  [46, null],
  [19, 26],
  [11, 15],
  [11, 18],
  [37, null],
  [22, null],
  [38, null],
  [34, null],
  [46, null],
  [5, 12],
  [36, null],
  [46, null],
];

it("Finkelstein and Wolfe (1985), radiotherapy: where the probability lies", () => {
  const steps = turnbull(
    months.map(([lower, upper]) => ({ lower, upper: upper ?? Number.POSITIVE_INFINITY })),
  );
  let before = 1;
  const falls = steps.flatMap(({ time, survival }) => {
    const fall = before - survival;
    before = survival;
    return fall > 1e-9 ? [[time, Number(fall.toFixed(4))]] : [];
  });
  expect(falls).toEqual([
    [4.5, 0.0463],
    [6.5, 0.0334],
    [7.5, 0.0887],
    [11.5, 0.0708],
    [24.5, 0.0926],
    [33.5, 0.0818],
    [39, 0.1209],
    [47, 0.4656],
  ]);
});
