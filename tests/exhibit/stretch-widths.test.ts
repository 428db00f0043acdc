import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { stretchWidths } from "../../src/exhibit/_stretch-widths.ts";

const [room, least] = [560, 68];
const length = fc.oneof(fc.constant(0), fc.double({ min: 1e-3, max: 1e9, noNaN: true }));

describe("stretchWidths()", () => {
  it("is to scale wherever that leaves room for every stretch", () => {
    const found = stretchWidths([1, 2, 3], room, least);
    expect(found.map(({ drawn }) => drawn)).toEqual(["to scale", "to scale", "to scale"]);
    expect((found[2]?.width ?? 0) / (found[0]?.width ?? 1)).toBeCloseTo(3, 9);
  });

  it("shortens years between minutes, and keeps the minutes to one scale", () => {
    const found = stretchWidths([600, 900, 3e8], room, least);
    expect(found.map(({ drawn }) => drawn)).toEqual(["to scale", "to scale", "shortened"]);
    expect((found[1]?.width ?? 0) / (found[0]?.width ?? 1)).toBeCloseTo(1.5, 6);
  });

  it("gives each its room, never more than there is, never a longer one less, and says what is not to scale", () => {
    fc.assert(
      fc.property(fc.array(length, { minLength: 1, maxLength: 8 }), (lengths) => {
        const found = stretchWidths(lengths, room, least);
        expect(found.reduce((sum, { width }) => sum + width, 0)).toBeLessThanOrEqual(room + 1e-6);
        const exact = lengths.flatMap((one, i) =>
          found[i]?.drawn === "to scale" && one > 0 ? [(found[i]?.width ?? 0) / one] : [],
        );
        for (const scale of exact) expect(scale / (exact[0] ?? 1)).toBeCloseTo(1, 2);
        lengths.forEach((a, i) => {
          expect(found[i]?.width).toBeGreaterThanOrEqual(least - 1e-6);
          lengths.forEach((b, j) => {
            if (a < b) expect(found[i]?.width ?? 0).toBeLessThanOrEqual((found[j]?.width ?? 0) + 1e-6);
          });
        });
      }),
    );
  });

  it("spreads evenly where a length is not known", () => {
    expect(stretchWidths([null, null], room, least)).toEqual([
      { width: 280, drawn: "unknown" },
      { width: 280, drawn: "unknown" },
    ]);
    expect(stretchWidths([], room, least)).toEqual([]);
  });
});
