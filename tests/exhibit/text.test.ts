import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { escapeText, svgNumber } from "../../src/exhibit/_svg.ts";
import { fitText, textWidth, wrapText } from "../../src/exhibit/_text.ts";
import { readTrueTypeWidths } from "./read-true-type-widths.ts";

const fonts = createRequire(import.meta.url);
const widthsOf = (face: string) =>
  readTrueTypeWidths(readFileSync(fonts.resolve(`dejavu-fonts-ttf/ttf/${face}.ttf`)));
const letters = fc.string({
  unit: fc.integer({ min: 32, max: 126 }).map((code) => String.fromCharCode(code)),
});

describe("textWidth()", () => {
  it("is the sum of the font's own advance widths, to a thousandth of the size for each letter", () => {
    const width = widthsOf("DejaVuSans");
    for (let code = 32; code < 127; code++)
      expect(textWidth(String.fromCharCode(code), 1000), String.fromCharCode(code)).toBe(
        Math.round(width(code) * 1000),
      );
  });

  it("is never below the real width of the signs that figures use, nor of words in bold", () => {
    const plain = widthsOf("DejaVuSans");
    const bold = widthsOf("DejaVuSans-Bold");
    for (const sign of "±–×·°²µ†é")
      expect(textWidth(sign, 1)).toBeGreaterThanOrEqual(plain(sign.codePointAt(0) ?? 0) - 1e-9);
    for (const word of ["Failure to trip by decade", "34.205 s (k = 2)", "16.6 % (10.9 % to 24.4 %)"]) {
      const real = [...word].reduce((sum, letter) => sum + bold(letter.codePointAt(0) ?? 0), 0);
      expect(textWidth(word, 1, true)).toBeGreaterThanOrEqual(real);
    }
  });
});

describe("wrapText()", () => {
  it("keeps every letter, and no line is wider than asked", () => {
    fc.assert(
      fc.property(letters, fc.integer({ min: 20, max: 400 }), (text, width) => {
        const lines = wrapText(text, width);
        expect(lines.join("").replace(/\s/g, "")).toBe(text.replace(/\s/g, ""));
        for (const line of lines) expect(textWidth(line, 12)).toBeLessThanOrEqual(width);
      }),
    );
  });
});

describe("fitText()", () => {
  it("leaves what fits, and cuts what does not to what does", () => {
    fc.assert(
      fc.property(letters, fc.integer({ min: 20, max: 300 }), (text, width) => {
        const fitted = fitText(text, width);
        expect(textWidth(fitted, 12)).toBeLessThanOrEqual(width);
        if (textWidth(text, 12) <= width) expect(fitted).toBe(text);
        else expect(fitted).toMatch(/\.\.\.$/);
      }),
    );
  });
});

describe("escapeText()", () => {
  it("leaves no letter with a meaning in markup, and can be read back", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary" }), (text) => {
        const escaped = escapeText(text);
        expect(escaped).not.toMatch(/[<>"']|&(?!(amp|lt|gt|quot|#39);)/);
        // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what XML 1.0 forbids
        expect(escaped).not.toMatch(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/);
      }),
    );
    expect(escapeText(`a<b & "c" > 'd'`)).toBe("a&lt;b &amp; &quot;c&quot; &gt; &#39;d&#39;");
    expect(escapeText("\u0000\ud800")).toBe("\uFFFD\uFFFD");
  });
});

describe("svgNumber()", () => {
  it("writes two decimals at most, and no negative zero", () => {
    expect([svgNumber(1 / 3), svgNumber(-0.001), svgNumber(120), svgNumber(-2.5)]).toEqual([
      "0.33",
      "0",
      "120",
      "-2.5",
    ]);
  });

  it.each([Number.NaN, Number.POSITIVE_INFINITY])("refuses %s", (value) => {
    expect(() => svgNumber(value)).toThrow(`finite numbers but found ${value}`);
  });
});
