import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { ForestData, FunnelData, MarginsData, RatesFigureData } from "../../src/contract/figures.ts";
import { forestFigure } from "../../src/exhibit/forest-figure.ts";
import { funnelFigure } from "../../src/exhibit/funnel-figure.ts";
import { marginsFigure } from "../../src/exhibit/margins-figure.ts";
import { ratesFigure } from "../../src/exhibit/rates-figure.ts";
import { shotFigure } from "../../src/exhibit/shot-figure.ts";
import { survivalFigure } from "../../src/exhibit/survival-figure.ts";
import { timeCurrentFigure } from "../../src/exhibit/time-current-figure.ts";
import {
  forestExample,
  funnelExample,
  marginsExample,
  ratesExample,
  shotExample,
  survivalExample,
  timeCurrentExample,
} from "./figure-examples.ts";
import { type DrawnElement, numberOf, readSvg } from "./read-svg.ts";

const share = fc.double({ min: 0, max: 1, noNaN: true });
const rate = fc.tuple(share, share, share).map((three) => {
  const [lower, estimate, upper] = [...three].sort((a, b) => a - b) as [number, number, number];
  return { lower, estimate, upper };
});
const row = fc.record({ rate, n: fc.integer({ min: 1, max: 9999 }) }).map(({ rate, n }, i = 0) => ({
  label: `row ${i}`,
  k: Math.round(rate.estimate * n),
  n,
  ...rate,
}));
const few = { numRuns: 40 };

const texts = (elements: readonly DrawnElement[]) =>
  elements.filter(({ name }) => name === "text").map(({ text }) => text);
const discs = (elements: readonly DrawnElement[]) => elements.filter(({ name }) => name === "circle");
/** Places rise where values do; equal places stand for values that a hundredth of a pixel cannot tell apart. */
function expectSameOrder(values: readonly number[], places: readonly number[]): void {
  expect(places.length).toBe(values.length);
  values.forEach((a, i) => {
    values.forEach((b, j) => {
      if (a < b) expect(places[i] ?? 0).toBeLessThanOrEqual((places[j] ?? 0) + 1e-9);
    });
  });
}

describe("ratesFigure()", () => {
  it("shows k of n and one disc for each row, in the order of the rates", () => {
    fc.assert(
      fc.property(fc.array(row, { minLength: 1, maxLength: 25 }), (rows) => {
        const data: RatesFigureData = { ...ratesExample, rows };
        const elements = readSvg(ratesFigure(data));
        for (const { k, n } of rows) expect(texts(elements)).toContain(`${k} of ${n}`);
        expectSameOrder(
          rows.map(({ estimate }) => estimate),
          discs(elements).map((disc) => numberOf(disc, "cx")),
        );
      }),
      few,
    );
  });

  it("refuses a rate outside its bounds, and no rows", () => {
    const wrong = { label: "stratum x", k: 1, n: 2, estimate: 0.5, lower: 0.6, upper: 0.9 };
    expect(() => ratesFigure({ ...ratesExample, rows: [wrong] })).toThrow(
      "stratum x: expected 0 <= lower <= estimate",
    );
    expect(() => ratesFigure({ ...ratesExample, rows: [{ ...wrong, lower: Number.NaN }] })).toThrow("NaN");
    expect(() => ratesFigure({ ...ratesExample, rows: [] })).toThrow("at least one row");
  });
});

describe("forestFigure()", () => {
  it("draws squares whose areas are in proportion to the weights", () => {
    const weights = [0.5, 0.3, 0.2];
    const data: ForestData = {
      ...forestExample,
      rows: weights.map((weight, i) => ({
        label: `${i}`,
        k: 1,
        n: 9,
        estimate: 0.1,
        lower: 0,
        upper: 0.5,
        weight,
      })),
      pooled: null,
      prediction: null,
    };
    const areas = readSvg(forestFigure(data))
      .filter(({ name }) => name === "polygon")
      .map(({ attributes }) => {
        const [[left = 0] = [], [right = 0] = []] = (attributes.points ?? "")
          .split(" ")
          .map((corner) => corner.split(",").map(Number));
        return (right - left) ** 2;
      });
    expect(areas.length).toBe(3);
    areas.forEach((area, i) => {
      expect(area / (areas[0] ?? 1)).toBeCloseTo((weights[i] ?? 0) / 0.5, 1);
    });
  });

  it("draws pooled rate and prediction interval only where there are any", () => {
    const bare = forestFigure({ ...forestExample, pooled: null, prediction: null });
    expect(bare).not.toContain("prediction interval</text>");
    expect(bare).toContain("No pooled rate.");
    expect(forestFigure(forestExample)).toContain("prediction interval</text>");
  });

  it("refuses no studies, and a pooled rate outside its bounds", () => {
    expect(() => forestFigure({ ...forestExample, rows: [] })).toThrow("at least one study");
    const pooled = { label: "pooled", estimate: 1.2, lower: 0.1, upper: 1.3 };
    expect(() => forestFigure({ ...forestExample, pooled })).toThrow("pooled: expected");
  });
});

describe("funnelFigure()", () => {
  it("draws one disc for each study, rates across and errors downwards in order", () => {
    const point = fc.record({
      label: fc.constant("s"),
      logit: fc.double({ min: -6, max: 6, noNaN: true }),
      standardError: fc.double({ min: 0.01, max: 3, noNaN: true }),
    });
    fc.assert(
      fc.property(fc.array(point, { minLength: 1, maxLength: 12 }), (points) => {
        const data: FunnelData = { ...funnelExample, points };
        const found = discs(readSvg(funnelFigure(data)));
        expectSameOrder(
          points.map(({ logit }) => logit),
          found.map((disc) => numberOf(disc, "cx")),
        );
        expectSameOrder(
          points.map(({ standardError }) => standardError),
          found.map((disc) => numberOf(disc, "cy")),
        );
      }),
      few,
    );
  });

  it("refuses a standard error that is not positive, and no studies", () => {
    const points = [{ label: "Study Z", logit: 0, standardError: 0 }];
    expect(() => funnelFigure({ ...funnelExample, points })).toThrow("Study Z: expected a finite logit");
    expect(() => funnelFigure({ ...funnelExample, points: [] })).toThrow("at least one study");
  });
});

describe("marginsFigure()", () => {
  it("draws one mark for each specimen, none over another, all passes left of a late one", () => {
    const ratios = fc.array(fc.double({ min: 0.001, max: 50, noNaN: true }), { minLength: 1, maxLength: 60 });
    fc.assert(
      fc.property(ratios, (values) => {
        const points: MarginsData["points"] = values.map((ratio, i) => ({
          label: `${i}`,
          stratum: "",
          ratio,
          censored: false,
          result: "pass",
        }));
        const found = discs(readSvg(marginsFigure({ ...marginsExample, points })));
        const places = found.map((disc) => [numberOf(disc, "cx"), numberOf(disc, "cy")] as const);
        expectSameOrder(
          [...values].sort((a, b) => a - b),
          places.map(([x]) => x),
        );
        places.forEach(([x, y], i) => {
          for (const [otherX, otherY] of places.slice(i + 1))
            expect(Math.hypot(otherX - x, otherY - y)).toBeGreaterThanOrEqual(10);
        });
      }),
      few,
    );
  });

  it("refuses a ratio that a logarithmic axis has no place for", () => {
    const points = [{ label: "A-1", stratum: "", ratio: 0, censored: false, result: "pass" as const }];
    expect(() => marginsFigure({ ...marginsExample, points })).toThrow("A-1: expected a positive ratio");
  });
});

describe("survivalFigure()", () => {
  const [curve] = survivalExample.curves;
  if (curve === undefined) throw new Error("the example has no curve");

  it("draws each step of the curve, level first and then down", () => {
    const svg = survivalFigure({ ...survivalExample, curves: [curve] });
    const path = readSvg(svg).find(
      ({ name, attributes }) => name === "path" && attributes["stroke-width"] === "2",
    );
    const places = (path?.attributes.d ?? "")
      .slice(1)
      .split("L")
      .map((place) => place.split(",").map(Number));
    // From 1 at time 0: two corners for each step, and the end.
    expect(places.length).toBe(1 + 2 * (curve.time.length + 1));
    for (let i = 1; i < places.length; i++) {
      const [[x0 = 0, y0 = 0] = [], [x1 = 0, y1 = 0] = []] = [places[i - 1], places[i]];
      expect(x1 >= x0 && y1 >= y0 && (x1 === x0 || y1 === y0)).toBe(true);
    }
  });

  it("prints every number at risk, and a curve in which nothing happened", () => {
    const still = {
      ...curve,
      label: "still",
      time: [],
      survival: [],
      lower: [],
      upper: [],
      atRisk: [{ time: 0, n: 4321 }],
    };
    expect(texts(readSvg(survivalFigure({ ...survivalExample, curves: [still] })))).toContain("4321");
  });

  it("refuses lists that do not match, and shares above 1", () => {
    expect(() => survivalFigure({ ...survivalExample, curves: [{ ...curve, lower: [] }] })).toThrow(
      "as many survival",
    );
    const above = { ...curve, survival: curve.survival.map(() => 1.5) };
    expect(() => survivalFigure({ ...survivalExample, curves: [above] })).toThrow(
      "shares from 0 to 1 but found 1.5",
    );
    expect(() => survivalFigure({ ...survivalExample, curves: [] })).toThrow("at least one curve");
  });
});

describe("timeCurrentFigure()", () => {
  const plain = { ...timeCurrentExample, limits: [], bands: [], model: null };

  it("puts each shot on a log-log plane: equal ratios are equal distances", () => {
    const shots = [1, 2, 4].map((power) => ({
      label: "",
      multiple: power,
      seconds: 1000 / power,
      outcome: "tripped" as const,
      time: null,
      current: null,
    }));
    const [a, b, c] = discs(readSvg(timeCurrentFigure({ ...plain, shots })));
    expect(numberOf(b, "cx") - numberOf(a, "cx")).toBeCloseTo(numberOf(c, "cx") - numberOf(b, "cx"), 1);
    expect(numberOf(b, "cy") - numberOf(a, "cy")).toBeCloseTo(numberOf(c, "cy") - numberOf(b, "cy"), 1);
    expect(numberOf(b, "cx")).toBeGreaterThan(numberOf(a, "cx"));
    expect(numberOf(b, "cy")).toBeGreaterThan(numberOf(a, "cy"));
  });

  it("shows the same places in amperes as in multiples", () => {
    const places = (axis: "amps" | "multiple") =>
      discs(readSvg(timeCurrentFigure({ ...plain, axis }))).map(({ attributes }) => [
        attributes.cx,
        attributes.cy,
      ]);
    expect(places("amps")).toEqual(places("multiple"));
    expect(timeCurrentFigure({ ...plain, axis: "amps" })).toContain(">40 A</text>");
    expect(timeCurrentFigure(plain)).toContain(">200 %</text>");
  });

  it("tells tripped, held and interrupted apart by shape", () => {
    const shapeOf = (outcome: "tripped" | "held" | "interrupted") => {
      const shot = { label: "", multiple: 2, seconds: 60, outcome, time: null, current: null };
      const elements = readSvg(timeCurrentFigure({ ...plain, shots: [shot] }));
      const [circle] = discs(elements);
      return {
        open: circle?.attributes.fill,
        arrows: elements.filter(({ name }) => name === "polygon").length,
      };
    };
    expect(shapeOf("tripped")).toEqual({ open: "#1a1a1a", arrows: 0 });
    expect(shapeOf("held")).toEqual({ open: "#ffffff", arrows: 1 });
    expect(shapeOf("interrupted")).toEqual({ open: undefined, arrows: 0 });
  });

  it("prints ambient, starting state, and that a set is unconfirmed until it is not", () => {
    const svg = timeCurrentFigure(timeCurrentExample);
    expect(svg).toContain("Ambient: 23.4 °C to 24.1 °C. Starting state: cold.");
    expect(svg).toContain("UNCONFIRMED");
    const confirmed = timeCurrentExample.limitSets.map((set) => ({ ...set, confirmed: true }));
    expect(timeCurrentFigure({ ...timeCurrentExample, limitSets: confirmed })).not.toContain("UNCONFIRMED");
  });

  it("refuses what has no place on logarithmic axes", () => {
    const [shot] = timeCurrentExample.shots;
    if (shot === undefined) throw new Error("the example has no shot");
    expect(() => timeCurrentFigure({ ...plain, shots: [{ ...shot, seconds: 0 }] })).toThrow(
      'time of shot "pole 1": expected a positive',
    );
    const outside = { ...shot, time: { lower: 50, upper: 60 } };
    expect(() => timeCurrentFigure({ ...plain, shots: [outside] })).toThrow(
      "lower <= value <= upper but found 50, 34.2, 60",
    );
    expect(() => timeCurrentFigure({ ...plain, ratedAmps: 0 })).toThrow("ratedAmps");
  });
});

describe("shotFigure()", () => {
  it("draws the trace in stretches, one break for each run of missing samples, all readings beside it", () => {
    const elements = readSvg(shotFigure(shotExample));
    const trace = elements.find(({ attributes }) => attributes["stroke-linejoin"] === "round");
    expect((trace?.attributes.d ?? "").match(/M/g)?.length).toBe(2);
    expect((trace?.attributes.d ?? "").match(/[ML]/g)?.length).toBe(
      shotExample.trace.amps.filter((amps) => amps !== null).length,
    );
    for (const { name, value } of shotExample.readings)
      expect(texts(elements)).toEqual(expect.arrayContaining([name, value]));
  });

  it("says what is not in the recording instead of drawing it", () => {
    const svg = shotFigure({
      ...shotExample,
      onsetSeconds: null,
      endSeconds: null,
      effectiveAmps: null,
      outcome: "interrupted",
    });
    expect(svg).toContain("The onset of the current is not in the recording.");
    expect(svg).toContain("time since the recording began");
    expect(svg).not.toContain(">onset</text>");
  });

  it("refuses a trace whose times go back, or that is empty", () => {
    expect(() => shotFigure({ ...shotExample, trace: { t: [0, 2, 1], amps: [0, 1, 1] } })).toThrow(
      "trace.t[2] is 1 after 2",
    );
    expect(() => shotFigure({ ...shotExample, trace: { t: [], amps: [] } })).toThrow("found 0 and 0");
  });
});
