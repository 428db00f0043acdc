import { readdirSync, readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { describe, expect, it } from "vitest";

const web = resolve(import.meta.dirname, "../../web");
const palette = readFileSync(join(web, "look/palette.css"), "utf8");

/** Relative luminance. Source: W3C, WCAG 2.2, definition of "relative luminance" (sRGB threshold 0.04045). */
function luminance(hex: string): number {
  const [r = 0, g = 0, b = 0] = [1, 3, 5].map((at) => {
    const channel = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return channel <= 0.04045 ? channel / 12.92 : ((channel + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

/** Contrast ratio. Source: W3C, WCAG 2.2, definition of "contrast ratio". */
function contrast(one: string, other: string): number {
  const [light = 0, dark = 0] = [luminance(one), luminance(other)].sort((a, b) => b - a);
  return (light + 0.05) / (dark + 0.05);
}

const colours = new Map(
  [...palette.matchAll(/^\s*(--[a-z-]+):\s*(#[0-9a-f]{6});/gm)].map(([, name = "", hex = ""]) => [name, hex]),
);
const pairs = [...palette.matchAll(/pair: (--[a-z-]+) on (--[a-z-]+) (\d+\.\d\d) (text|graphic)/g)].map(
  ([, front = "", ground = "", stated = "", use = ""]) => ({ front, ground, stated: Number(stated), use }),
);

describe("contrast()", () => {
  // Values printed in the understanding documents and technique pages of WCAG: 21 for black on white, and the greys at
  // which text (#767676) and graphics (#949494) just pass on white.
  it.each([
    ["#000000", "#ffffff", 21],
    ["#767676", "#ffffff", 4.54],
    ["#777777", "#ffffff", 4.48],
    ["#949494", "#ffffff", 3.03],
    ["#ff0000", "#ffffff", 4.0],
  ])("of %s on %s is %d", (one, other, ratio) => {
    expect(contrast(one, other)).toBeCloseTo(ratio, 2);
    expect(contrast(other, one)).toBe(contrast(one, other));
  });
});

describe("the palette", () => {
  it("names colours and pairs", () => {
    expect(colours.size).toBeGreaterThan(12);
    expect(pairs.length).toBeGreaterThan(25);
  });

  it.each(pairs)("$front on $ground is $stated and enough for $use", ({ front, ground, stated, use }) => {
    const ratio = contrast(colours.get(front) ?? "", colours.get(ground) ?? "");
    expect(ratio).toBeCloseTo(stated, 2);
    // WCAG 2.2 success criteria 1.4.3 (text) and 1.4.11 (graphics and controls), level AA.
    expect(ratio).toBeGreaterThanOrEqual(use === "text" ? 4.5 : 3);
  });

  it("is the only place where a colour is written", () => {
    const files = readdirSync(web, { recursive: true, encoding: "utf8" }).filter(
      (file) => /\.(css|tsx?)$/.test(file) && file !== join("look", "palette.css"),
    );
    expect(files.length).toBeGreaterThan(40);
    const found = files.filter((file) =>
      /#[0-9a-f]{3,8}\b(?!\/)|\brgba?\(|\bhsla?\(/i.test(readFileSync(join(web, file), "utf8")),
    );
    expect(found).toEqual([]);
  });

  it("gives the colour of live current to current and to the stop alone", () => {
    const uses = ["bench", "record", "frame", "ground", "controls"].flatMap((name) => {
      const text = readFileSync(join(web, "look", `${name}.css`), "utf8");
      return [...text.matchAll(/([^{}]+)\{[^{}]*var\(--live\)[^{}]*\}/g)].map(([, selector = ""]) =>
        selector.trim().replace(/\s+/g, " "),
      );
    });
    expect(uses.sort()).toEqual([
      ".rig-state-on",
      ".run-state-live",
      ".stop-live, .stop-live:hover",
      ".time-bar-fill",
    ]);
  });
});
