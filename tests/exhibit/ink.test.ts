import { describe, expect, it } from "vitest";
import { dashOf, ink } from "../../src/exhibit/_ink.ts";

/** WCAG 2.2, definitions of relative luminance and contrast ratio. */
function luminance(hex: string): number {
  const channel = (at: number) => {
    const part = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
  };
  return 0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5);
}
const contrast = (a: string, b: string) => {
  const [light, dark] = [luminance(a), luminance(b)].sort((x, y) => y - x) as [number, number];
  return (light + 0.05) / (dark + 0.05);
};

describe("ink", () => {
  // Known pair of the standard's own text: black on white is 21:1.
  it("is measured with a ruler that gives 21 for black on white", () => {
    expect(contrast("#000000", "#ffffff")).toBeCloseTo(21, 10);
  });

  it.each([ink.text, ink.soft])("has text of at least 4.5 to 1 on paper: %s (WCAG 2.2, 1.4.3)", (grey) => {
    expect(contrast(grey, ink.paper)).toBeGreaterThanOrEqual(4.5);
  });

  it.each([ink.mark, ink.line, ink.hatch])(
    "has lines of at least 3 to 1 on paper: %s (WCAG 2.2, 1.4.11)",
    (grey) => {
      expect(contrast(grey, ink.paper)).toBeGreaterThanOrEqual(3);
    },
  );

  it("tells six curves apart by their dashes alone", () => {
    expect(new Set([0, 1, 2, 3, 4, 5].map(dashOf)).size).toBe(6);
  });
});
