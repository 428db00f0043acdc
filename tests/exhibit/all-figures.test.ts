import { describe, expect, it } from "vitest";
import { textWidth } from "../../src/exhibit/_text.ts";
import { custodyTimelineFigure } from "../../src/exhibit/custody-timeline-figure.ts";
import { forestFigure, forestWords } from "../../src/exhibit/forest-figure.ts";
import { funnelFigure, funnelWords } from "../../src/exhibit/funnel-figure.ts";
import { marginsFigure, marginsWords } from "../../src/exhibit/margins-figure.ts";
import { ratesFigure, ratesWords } from "../../src/exhibit/rates-figure.ts";
import { shotFigure, shotFigureWords } from "../../src/exhibit/shot-figure.ts";
import { survivalFigure, survivalWords } from "../../src/exhibit/survival-figure.ts";
import { timeCurrentFigure, timeCurrentFigureWords } from "../../src/exhibit/time-current-figure.ts";
import { crowdedCustody, custodyExample } from "./custody-examples.ts";
import {
  crowdedMargins,
  forestExample,
  funnelExample,
  marginsExample,
  ratesExample,
  shotExample,
  survivalExample,
  timeCurrentExample,
} from "./figure-examples.ts";
import { numberOf, readSvg, unescaped } from "./read-svg.ts";

const hostile = `<script>alert("1")</script> & 'two' \u0000\u000b\ud800 ]]>`;
const long =
  "a stratum with a name so long that no figure has room for it on one line, nor on two of them ".repeat(3);

/** Every text of the data replaced, in any depth. */
function withTexts<T>(data: T, text: string): T {
  const keep = new Set([
    ...["outcome", "axis", "edge", "result", "current"],
    ...["event", "kind", "condition", "observedAt", "observedUntil", "enteredAt", "at"],
  ]);
  const walk = (value: unknown, key: string): unknown => {
    if (typeof value === "string") return keep.has(key) ? value : text;
    if (Array.isArray(value)) return value.map((item) => walk(item, key));
    if (typeof value !== "object" || value === null) return value;
    return Object.fromEntries(Object.entries(value).map(([name, item]) => [name, walk(item, name)]));
  };
  return walk(data, "") as T;
}

interface Case {
  name: string;
  svg: string;
  words: string;
}
const cases = (change: <T>(data: T) => T): Case[] => {
  const amps = change({ ...timeCurrentExample, axis: "amps" as const });
  return [
    { name: "forest", svg: forestFigure(change(forestExample)), words: forestWords(change(forestExample)) },
    { name: "rates", svg: ratesFigure(change(ratesExample)), words: ratesWords(change(ratesExample)) },
    {
      name: "survival",
      svg: survivalFigure(change(survivalExample)),
      words: survivalWords(change(survivalExample)),
    },
    { name: "funnel", svg: funnelFigure(change(funnelExample)), words: funnelWords(change(funnelExample)) },
    {
      name: "margins",
      svg: marginsFigure(change(marginsExample)),
      words: marginsWords(change(marginsExample)),
    },
    {
      name: "crowded margins",
      svg: marginsFigure(change(crowdedMargins)),
      words: marginsWords(change(crowdedMargins)),
    },
    {
      name: "time-current",
      svg: timeCurrentFigure(change(timeCurrentExample)),
      words: timeCurrentFigureWords(change(timeCurrentExample)),
    },
    { name: "time-current in amperes", svg: timeCurrentFigure(amps), words: timeCurrentFigureWords(amps) },
    { name: "shot", svg: shotFigure(change(shotExample)), words: shotFigureWords(change(shotExample)) },
    ...[custodyExample, crowdedCustody].flatMap((example) =>
      custodyTimelineFigure(change(example)).map(({ svg, words }, i) => ({
        ...{ name: `custody timeline of ${example.lines.length}, sheet ${i + 1}`, svg, words },
      })),
    ),
  ];
};

describe.each([
  ["as given", cases((data) => data)],
  ["with hostile texts", cases((data) => withTexts(data, hostile))],
  ["with long texts", cases((data) => withTexts(data, long))],
  ["with empty texts", cases((data) => withTexts(data, ""))],
])("every figure, %s", (_, figures) => {
  it.each(figures)(
    "$name is well-formed, of fixed size, with title, description and a free font",
    ({ svg }) => {
      const elements = readSvg(svg);
      const [root, title, description] = elements;
      expect(root?.name).toBe("svg");
      expect(root?.attributes.viewBox).toBe(`0 0 ${root?.attributes.width} ${root?.attributes.height}`);
      expect(root?.attributes["font-family"]).toBe("DejaVu Sans, sans-serif");
      expect([title?.name, description?.name]).toEqual(["title", "desc"]);
      expect(description?.text).not.toBe("");
      expect(elements.map(({ name }) => name)).not.toContain("script");
    },
  );

  it.each(figures)("$name holds no number that is none", ({ svg }) => {
    expect(svg).not.toMatch(/NaN|Infinity|undefined|null|\[object/);
  });

  it.each(figures)("$name has no colour and no identifier that could clash", ({ svg }) => {
    for (const { attributes } of readSvg(svg)) {
      for (const paint of [attributes.fill, attributes.stroke]) {
        if (paint !== undefined && paint !== "none") expect(paint).toMatch(/^#([0-9a-f]{2})\1\1$/);
      }
      expect(attributes.id).toBeUndefined();
    }
  });

  it.each(figures)("$name keeps its texts inside the picture", ({ svg }) => {
    const elements = readSvg(svg);
    const [width, height] = [numberOf(elements[0], "width"), numberOf(elements[0], "height")];
    for (const text of elements.filter(({ name }) => name === "text")) {
      const plain = unescaped(text.text);
      const wide = textWidth(plain, numberOf(text, "font-size"), text.attributes["font-weight"] === "bold");
      const anchor = text.attributes["text-anchor"] ?? "start";
      const left = numberOf(text, "x") - (anchor === "end" ? wide : anchor === "middle" ? wide / 2 : 0);
      expect(left + wide, text.text).toBeLessThanOrEqual(width + 1);
      expect(left, text.text).toBeGreaterThanOrEqual(0);
      expect(numberOf(text, "y")).toBeGreaterThan(0);
      expect(numberOf(text, "y")).toBeLessThanOrEqual(height);
    }
  });
});

describe("figures", () => {
  it("are the same bytes twice", () => {
    expect(cases((data) => structuredClone(data))).toEqual(cases((data) => data));
  });

  it.each(cases((data) => data))("$name carries its words as description", ({ svg, words }) => {
    const description = readSvg(svg).find(({ name }) => name === "desc")?.text ?? "";
    expect(unescaped(description)).toBe(words);
    expect(words.length).toBeGreaterThan(40);
  });
});
