import { describe, expect, it } from "vitest";
import { drawableText } from "../../src/exhibit/pdf/_drawable-text.ts";

const none = (): boolean => false;

describe("drawableText", () => {
  it("names a letter without a glyph by its number, half of a pair and a control letter too", () => {
    expect(drawableText("a漢😀\ud83d\u0001", none)).toBe("a[U+6F22][U+1F600][U+D83D][U+0001]");
  });

  it("leaves what the font has, and makes every blank a plain space", () => {
    expect(drawableText("é\tb\u00a0c\nd", () => true)).toBe("é b c d");
  });

  it("takes another stand-in", () => {
    expect(drawableText("漢字", none, () => "?")).toBe("??");
  });
});
