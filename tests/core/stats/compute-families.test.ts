import { describe, expect, it } from "vitest";
import { proportionFamilies } from "../../../src/core/stats/compute-families.ts";

const compute = (name: string, input: Record<string, unknown>) => {
  const family = proportionFamilies.find((one) => one.name === name);
  if (family === undefined) throw new Error(`no family ${name}`);
  return family.compute(input);
};

const two = { x1: 1, n1: 2, x2: 1, n2: 2, level: 0.95 };
const panel = {
  n_single: 1,
  n_double: 1,
  k_single: 0,
  N_single: 10,
  k_double: 0,
  N_double: 10,
  prior_a_b: 0.5,
  level: 0.95,
};

describe("proportionFamilies", () => {
  it("have names of their own, and words for every input and output", () => {
    expect(new Set(proportionFamilies.map(({ name }) => name)).size).toBe(proportionFamilies.length);
    for (const { about, inputs, outputs } of proportionFamilies) {
      for (const words of [about, ...Object.values(inputs), ...Object.values(outputs)])
        expect(words).not.toBe("");
    }
  });

  it.each(proportionFamilies.map((family) => [family.name, family] as const))(
    "%s refuses missing inputs, naming the first",
    (_name, { compute: computeIt, inputs }) => {
      expect(() => computeIt({})).toThrow(/^"\w+" is missing; found no inputs$/);
      const named = /^"(\w+)" is missing/.exec(messageOf(() => computeIt({})));
      expect(Object.keys(inputs)).toContain(named?.[1]);
    },
  );

  it.each([
    ["binom/wilson", { k: 3, n: 2, level: 0.95 }, '"k" must be a whole number from 0 to n = 2 but is 3'],
    ["binom/wilson", { k: -1, n: 2, level: 0.95 }, '"k" must be a whole number of 0 or more but is -1'],
    ["binom/wilson", { k: 0.5, n: 2, level: 0.95 }, '"k" must be a whole number of 0 or more but is 0.5'],
    ["binom/wilson", { k: "1", n: 2, level: 0.95 }, '"k" must be a whole number of 0 or more but is "1"'],
    ["binom/wilson", { k: 0, n: 0, level: 0.95 }, '"n" must be a whole number of 1 or more but is 0'],
    ["binom/wilson", { k: 1, n: 2, level: 95 }, '"level" must be a number above 0 and below 1 but is 95'],
    ["binom/wilson", { k: 1, n: 2, level: null }, '"level" must be a number above 0 and below 1 but is null'],
    ["binom/wilson", { k: 1, n: 2 }, '"level" is missing; found k, n'],
    [
      "binom-onesided",
      { k: 1, n: 2, confidence: 1 },
      '"confidence" must be a number above 0 and below 1 but is 1',
    ],
    ["rule-of-three", { k: 1, n: 2, confidence: 0.95 }, '"k" must be 0 for the rule of three but is 1'],
    [
      "success-run",
      { confidence: 0.9, reliability: 1 },
      '"reliability" must be a number above 0 and below 1 but is 1',
    ],
    [
      "c-plan",
      { confidence: 0.9, reliability: 0.9, c: [1, -1] },
      '"c[1]" must be a whole number of 0 or more but is -1',
    ],
    [
      "c-plan",
      { confidence: 0.9, reliability: 0.9, c: [] },
      '"c" must be a list of one or more values but is []',
    ],
    [
      "two-point-plan",
      { p1: 0.2, alpha: 0.1, p2: 0.1, beta: 0.1 },
      '"p1" must be below "p2" = 0.1 but is 0.2',
    ],
    ["hypergeometric", { N: 5, n: 6, k: 0 }, '"n" must be a whole number from 1 to N = 5 but is 6'],
    [
      "hypergeometric-n",
      { N: 5, D: 6, confidence: 0.9 },
      '"D" must be a whole number from 1 to N = 5 but is 6',
    ],
    ["fisher", { ...two, x2: 3 }, '"x2" must be a whole number from 0 to n2 = 2 but is 3'],
    [
      "cmh",
      { x1: [1, 3], n1: [2, 2], x2: [1, 1], n2: [2, 2], level: 0.95 },
      '"x1[1]" must be a whole number from 0 to n1[1] = 2 but is 3',
    ],
    [
      "cmh",
      { x1: [1, 1], n1: [2, 2], x2: [1], n2: [2], level: 0.95 },
      '"x2" must have as many values as "x1" (2) but has 1',
    ],
    [
      "cochran-armitage",
      { x: [1, 1], n: [2, 2], scores: [1] },
      '"scores" must have as many values as "x" (2) but has 1',
    ],
    ["cochran-armitage", { x: [1], n: [2], scores: [1] }, '"scores" must be two or more numbers but are 1'],
    [
      "cochran-armitage",
      { x: [1, 1], n: [2, 2], scores: [1, null] },
      '"scores[1]" must be a finite number but is null',
    ],
    ["cluster", { y: [1], m: [1, 2], level: 0.95 }, '"y" must have as many values as "m" (2) but has 1'],
    ["rao-scott", { groups: [1] }, '"groups[0]" must be an object but is 1'],
    ["rao-scott", { groups: [{ y: [1], m: [2] }] }, '"groups" must be two or more but are 1'],
    [
      "rao-scott",
      {
        groups: [
          { y: [1], m: [2] },
          { y: [3], m: [2] },
        ],
      },
      '"groups[1]": "y[0]" must be a whole number from 0 to m[0] = 2 but is 3',
    ],
    ["panel-risk", { ...panel, prior_a_b: 0 }, '"prior_a_b" must be above 0 but is 0'],
    [
      "panel-risk",
      { ...panel, k_double: 11 },
      '"k_double" must be a whole number from 0 to N_double = 10 but is 11',
    ],
    ["bland-altman", { a: [1, 2], b: [1], level: 0.95 }, '"b" must have as many values as "a" (2) but has 1'],
    ["bland-altman", { a: [1], b: [1], level: 0.95 }, '"a" must be two or more numbers but has 1'],
    ["precision", { labs: [[1, 2], []] }, '"labs[1]" must be a list of one or more values but is []'],
    ["precision", { labs: [[1, "2"]] }, '"labs[0][1]" must be a finite number but is "2"'],
    ["precision", { labs: 3 }, '"labs" must be a list of one or more values but is 3'],
  ])("%s refuses %j", (name, input, message) => {
    expect(() => compute(name, input)).toThrow(new RangeError(message));
  });

  it("takes one number of allowed failures as well as a list", () => {
    expect(compute("c-plan", { confidence: 0.95, reliability: 0.95, c: 1 })).toMatchObject({ n: 93 });
    expect(compute("c-plan", { confidence: 0.95, reliability: 0.95, c: [1] })).toMatchObject({ n: [93] });
  });

  it("gives null, not NaN, for what cannot be estimated", () => {
    const none = { x1: [0], n1: [5], x2: [0], n2: [5], level: 0.95 };
    expect(Object.values(compute("cmh", none)).every((value) => value === null)).toBe(true);
  });
});

function messageOf(run: () => unknown): string {
  try {
    run();
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
  return "";
}
