import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { custodyEvents, sealConditions } from "../../src/contract/custody-schema.ts";
import type { CustodyTimelineData } from "../../src/contract/exhibit-figures.ts";
import { textWidth } from "../../src/exhibit/_text.ts";
import { custodyTimelineFigure } from "../../src/exhibit/custody-timeline-figure.ts";
import {
  crowdedCustody,
  custodyData,
  custodyExample,
  custodyLine,
  publishedCustody,
} from "./custody-examples.ts";
import { type DrawnElement, numberOf, readSvg, unescaped } from "./read-svg.ts";

const drawn = (data: CustodyTimelineData) => custodyTimelineFigure(data).map(({ svg }) => readSvg(svg));
const textsOf = (elements: readonly DrawnElement[]) =>
  elements.filter(({ name }) => name === "text").map(({ text }) => unescaped(text));
const texts = (data: CustodyTimelineData) => drawn(data).flatMap(textsOf);

/** The numbered marks: a number in bold right after its circle. */
function numbered(elements: readonly DrawnElement[]) {
  return elements.flatMap((text, i) => {
    const circle = elements[i - 1];
    if (text.name !== "text" || !/^\d+$/.test(text.text) || circle?.name !== "circle") return [];
    const [x, y] = [numberOf(circle, "cx"), numberOf(circle, "cy")];
    expect(numberOf(text, "x")).toBe(x);
    return [{ number: Number(text.text), x, y, isRing: circle.attributes.fill === "#ffffff" }];
  });
}

const headingPattern = new RegExp(`^\\d+ (${custodyEvents.join("|")})\\*?$`);

/** Headings over the strips, which begin anew at the left. */
const headings = (elements: readonly DrawnElement[]) =>
  elements.filter(({ name, text }) => name === "text" && headingPattern.test(text));

const hatched = (elements: readonly DrawnElement[]) =>
  elements.filter(({ name, attributes }) => name === "path" && attributes["stroke-width"] === "0.6");
const ruled = (elements: readonly DrawnElement[]) =>
  elements.filter(({ name, attributes }) => name === "line" && attributes["stroke-width"] === "0.6");

const start = Date.parse("2020-02-28T22:00:00.000Z");
/** From nothing to ten years. */
const pause = fc.oneof(
  fc.constant(0),
  fc.integer({ min: 1, max: 600 }),
  fc.integer({ min: 600, max: 400_000 }),
  fc.integer({ min: 400_000, max: 320_000_000 }),
);
const holder = fc.oneof(
  fc.constantFrom("reception", "Locker 3", "locker 3 ", "bench", "I. Invented"),
  fc.string({ unit: "grapheme", minLength: 1, maxLength: 200 }),
  fc.constant("W".repeat(200)),
);
const step = fc.record({
  pause,
  lasts: fc.oneof(fc.constant(null), pause),
  late: fc.oneof(fc.constant(0), pause),
  event: fc.constantFrom(...custodyEvents),
  from: holder,
  to: holder,
  ofJob: fc.boolean(),
  seals: fc.oneof(
    fc.array(
      fc.record({
        number: fc.string({ minLength: 1, maxLength: 100 }),
        condition: fc.constantFrom(...sealConditions),
      }),
      { maxLength: 5 },
    ),
    fc.constant(Array.from({ length: 50 }, (_, i) => ({ number: `${i}`, condition: "removed" as const }))),
  ),
});
const chain = fc
  .tuple(
    fc.array(step, { minLength: 1, maxLength: 30 }),
    fc.array(fc.tuple(pause, fc.boolean()), { maxLength: 6 }),
  )
  .map(([steps, tests]) => {
    let now = start;
    const after = (seconds: number) => new Date(now + seconds * 1000).toISOString();
    const lines = steps.map(({ pause, lasts, late, event, from, to, ofJob, seals }, i) => {
      now += pause * 1000;
      return custodyLine(i + 1, [event, from, to, after(0)], {
        observedUntil: lasts === null ? null : after(lasts),
        entered: after(late),
        about: ofJob ? { kind: "job", id: "j" } : { kind: "specimen", id: "s" },
        seals,
      });
    });
    now = start;
    const shots = tests.map(([pause, current], i) => {
      now += pause * 1000;
      return { shot: `T${i}`, at: after(0), current };
    });
    return custodyData(lines, shots);
  });

describe("custodyTimelineFigure()", () => {
  it("draws every event of the table once, by its number, in order from left to right and strip to strip", () => {
    fc.assert(
      fc.property(chain, (data) => {
        const sheets = drawn(data);
        const marks = sheets.flatMap(numbered);
        const wanted = data.lines.map((_, i) => i + 1);
        expect(marks.map(({ number }) => number).sort((a, b) => a - b)).toEqual(wanted);
        // Each has its heading at the same place across; a heading further left than the one before is in a lower strip.
        const heads = sheets.flatMap(headings);
        expect(heads.map(({ text }) => text.replace("*", ""))).toEqual(
          data.lines.map(({ event }, i) => `${i + 1} ${event.event}`),
        );
        for (const elements of sheets) {
          const here = headings(elements);
          here.forEach((head, i) => {
            const mark = numbered(elements).find(({ number }) => head.text.startsWith(`${number} `));
            expect(mark?.x).toBe(numberOf(head, "x"));
            const before = here[i - 1];
            if (before === undefined) return;
            if (numberOf(before, "y") === numberOf(head, "y"))
              expect(numberOf(head, "x")).toBeGreaterThan(numberOf(before, "x"));
            else expect(numberOf(head, "y")).toBeGreaterThan(numberOf(before, "y"));
          });
        }
      }),
      { numRuns: 30 },
    );
  });

  it("keeps texts and numbered marks apart and inside the picture, whatever the chain", () => {
    fc.assert(
      fc.property(chain, (data) => {
        for (const elements of drawn(data)) expectApart(elements);
      }),
      { numRuns: 30 },
    );
  });

  it.each([
    ["of an example", custodyExample],
    ["of forty events with long names", crowdedCustody],
    ["of a published copy", publishedCustody],
  ])("keeps texts apart and no sheet higher than a page %s", (_, data) => {
    for (const elements of drawn(data)) {
      expectApart(elements);
      expect(numberOf(elements[0], "height")).toBeLessThanOrEqual(900);
    }
  });

  it("says every event and every remark in words, of the sheet where it is drawn", () => {
    const words = custodyTimelineFigure(crowdedCustody).map((sheet) => sheet.words);
    expect(words.length).toBeGreaterThan(1);
    for (const [i, { event }] of crowdedCustody.lines.entries()) {
      const found = words.filter((text) =>
        text.includes(` ${i + 1} ${event.event}, ${event.observedAt.slice(0, 10)}`),
      );
      expect(found).toHaveLength(1);
      expect(found[0]).toContain(`from ${event.from} to ${event.to}`);
    }
    for (const remark of crowdedCustody.remarks) expect(words.join("\n")).toContain(remark.words);
  });

  it("marks a gap by hatching and an overlap by upright rules, both with their words", () => {
    const [elements = []] = drawn(custodyExample);
    expect(textsOf(elements)).toEqual(
      expect.arrayContaining(["A gap", "B late entry", "C overlap", "D seal"]),
    );
    expect(textsOf(elements).join(" ")).toContain("gap: A (2 and 3)");
    expect(hatched(elements)).toHaveLength(1);
    expect(ruled(elements).length).toBeGreaterThan(5);

    const [plain = []] = drawn({ ...custodyExample, remarks: [] });
    expect(hatched(plain)).toHaveLength(0);
    expect(ruled(plain)).toHaveLength(0);
    expect(textsOf(plain).join(" ")).not.toMatch(/gap|overlap|Pointed out/i);
  });

  it("hatches the time before a chain that does not begin with a receipt", () => {
    const data = custodyData([custodyLine(5, ["storage", "a", "b", "2026-01-01T00:00:00.000Z"])]);
    const [elements = []] = drawn(data);
    expect(hatched(elements)).toHaveLength(1);
    expect(textsOf(elements)).toContain("A gap");
  });

  it("tells what was entered later than observed by a ring and by how much", () => {
    const [elements = []] = drawn(custodyExample);
    const rings = numbered(elements).filter(({ isRing }) => isRing);
    expect(rings.map(({ number }) => number)).toEqual([3, 5]);
    expect(textsOf(elements)).toEqual(expect.arrayContaining(["entered later by", "3 d 06 h", "21 min"]));
  });

  it("shows the length of every stretch, and breaks the axis where one is shortened", () => {
    const years = custodyData([
      custodyLine(1, ["receipt", "a", "b", "2001-01-01T00:00:00.000Z"]),
      custodyLine(2, ["transfer", "b", "c", "2001-01-01T00:10:00.000Z"]),
      custodyLine(3, ["storage", "c", "d", "2001-01-01T00:10:00.000Z"]),
      custodyLine(5, ["testing", "d", "d", "2001-01-01T00:10:00.400Z"]),
      custodyLine(4, ["opening", "d", "e", "2011-01-01T00:10:00.000Z"]),
    ]);
    expect(texts(years)).toEqual(expect.arrayContaining(["10 min", "same time", "< 1 s", "3652 d"]));
    expect(texts(years).join(" ")).toContain("broken by two slants where shortened");
    const even = custodyData(years.lines.slice(0, 2));
    expect(texts(even).join(" ")).not.toMatch(/slants|lengthened/);
  });

  it("marks the first current, the last test, and the tests between", () => {
    const [elements = []] = drawn(custodyExample);
    expect(textsOf(elements)).toEqual(expect.arrayContaining(["first current", "last test"]));
    const ticks = elements.filter(
      ({ attributes }) =>
        Number(attributes.y2) - Number(attributes.y1) === 9 && attributes.x1 === attributes.x2,
    );
    expect(ticks).toHaveLength(1);
    const none = custodyExample.shots.map((shot) => ({ ...shot, current: false }));
    expect(texts({ ...custodyExample, shots: none })).not.toContain("first current");
    expect(texts({ ...custodyExample, shots: [] }).join(" ")).toContain("; no test");
  });

  it("draws what lasted as a bar to its end, and names its seals with their condition", () => {
    const bars = (data: CustodyTimelineData) =>
      drawn(data)
        .flat()
        .filter(({ name, attributes }) => name === "rect" && attributes.height === "12");
    // One of the two goes on in the second strip.
    expect(bars(custodyExample)).toHaveLength(3);
    expect(texts(custodyExample)).toEqual(expect.arrayContaining(["end of 2", "end of 4"]));
    const moments = custodyExample.lines.map((one) => ({
      ...one,
      event: { ...one.event, observedUntil: null },
    }));
    expect(bars({ ...custodyExample, lines: moments })).toHaveLength(0);
    expect(texts(custodyExample)).toEqual(expect.arrayContaining(["2 intact", "broken", "applied"]));
    expect(texts(custodyExample).join(" ")).toContain("5: SEAL-77 broken");
  });

  it("has one lane for a holder however it is written, and says where a name is cut", () => {
    const line = (n: number, from: string, to: string) =>
      custodyLine(n, ["transfer", from, to, `2026-01-0${n}T00:00:00.000Z`]);
    const data = custodyData([line(1, "Bench", "locker"), line(2, " LOCKER", "bench ")]);
    const found = texts(data);
    expect(found.filter((text) => /^\s*(bench|locker)\s*$/i.test(text))).toEqual(["Bench", "locker"]);
    const cut = "Names too long for their lane are cut.";
    expect(found).not.toContain(cut);
    expect(texts(custodyData([line(1, "W".repeat(200), "x")]))).toContain(cut);
  });

  it("keeps every day out of a published copy, and says that the order alone is shown", () => {
    const [{ svg, words } = { svg: "", words: "" }] = custodyTimelineFigure(publishedCustody);
    for (const text of [svg, words]) expect(text).not.toMatch(/\d{4}-\d{2}|\d{2}:\d{2}|\d+ (min|h|d)\b/);
    expect(svg).toContain("Days are withheld");
    expect(numbered(readSvg(svg))).toHaveLength(publishedCustody.lines.length);
  });

  it("draws nothing where there is no event, and refuses events that are out of order", () => {
    expect(custodyTimelineFigure(custodyData([]))).toEqual([]);
    const [first, second] = custodyExample.lines;
    if (first === undefined || second === undefined) throw new Error("the example has too few lines");
    expect(() => custodyTimelineFigure({ ...custodyExample, lines: [second, first] })).toThrow(
      "entry 3: expected events in the order of what was observed but found 2024-06-14T08:02:00.000Z after 2024-06-14T08:20",
    );
  });

  it("makes the same bytes twice", () => {
    expect(custodyTimelineFigure(structuredClone(crowdedCustody))).toEqual(
      custodyTimelineFigure(crowdedCustody),
    );
  });
});

interface Box {
  words: string;
  left: number;
  right: number;
  top: number;
  bottom: number;
}

/** No text over another, none over a numbered mark but its own number, all inside the picture. */
function expectApart(elements: readonly DrawnElement[]): void {
  const [width, height] = [numberOf(elements[0], "width"), numberOf(elements[0], "height")];
  const boxes = elements.filter(({ name }) => name === "text").map(boxOf);
  const marks = numbered(elements).map(({ number, x, y }): Box => {
    return { words: `${number}`, left: x - 8, right: x + 8, top: y - 8, bottom: y + 8 };
  });
  for (const [i, box] of boxes.entries()) {
    expect(box.left, box.words).toBeGreaterThanOrEqual(0);
    expect(box.right, box.words).toBeLessThanOrEqual(width);
    expect(box.bottom, box.words).toBeLessThanOrEqual(height);
    const others = [...boxes.slice(i + 1), ...marks.filter(({ words }) => words !== box.words)];
    for (const other of others) {
      const apart =
        box.right <= other.left ||
        other.right <= box.left ||
        box.bottom <= other.top ||
        other.bottom <= box.top;
      expect(apart, `"${box.words}" over "${other.words}"`).toBe(true);
    }
  }
}

function boxOf(element: DrawnElement): Box {
  const words = unescaped(element.text);
  const size = numberOf(element, "font-size");
  const wide = textWidth(words, size, element.attributes["font-weight"] === "bold");
  const anchor = element.attributes["text-anchor"] ?? "start";
  const left = numberOf(element, "x") - (anchor === "end" ? wide : anchor === "middle" ? wide / 2 : 0);
  const y = numberOf(element, "y");
  return { words, left, right: left + wide, top: y - size * 0.76, bottom: y + size * 0.24 };
}
