import { describe, it } from "vitest";
import { raoScott } from "../../src/core/stats/rao-scott.ts";
import { expectPrinted } from "./printed.ts";

// Rao J N K, Scott A J (1992) Biometrics 48:577-585, on the litters of Weil C S (1970) as in Williams D A (1975); counts as in a
// public data package

const litters = (y: readonly number[], m: readonly number[]) =>
  y.map((alive, i) => ({ y: alive, m: m[i] ?? 0 }));
const control = litters(
  [13, 12, 9, 9, 8, 8, 12, 11, 9, 9, 8, 11, 4, 5, 7, 7],
  [13, 12, 9, 9, 8, 8, 13, 12, 10, 10, 9, 13, 5, 7, 10, 10],
);
const treated = litters(
  [12, 11, 10, 9, 10, 9, 9, 8, 8, 4, 7, 4, 5, 3, 3, 0],
  [12, 11, 10, 9, 11, 10, 10, 9, 9, 5, 9, 7, 10, 6, 10, 7],
);

describe("Rao & Scott 1992, values from memory", () => {
  it("design effects of both groups", () => {
    const { designEffects } = raoScott([control, treated]);
    expectPrinted(designEffects[0], "1.23");
    expectPrinted(designEffects[1], "3.95");
  });
});
