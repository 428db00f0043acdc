import { describe, expect, it } from "vitest";
import { poolingFamilies } from "../../../src/core/stats/families/pooling-families.ts";
import { survivalFamilies } from "../../../src/core/stats/families/survival-families.ts";

const families = new Map([...poolingFamilies, ...survivalFamilies].map((family) => [family.name, family]));

function compute(name: string, input: Record<string, unknown>) {
  const family = families.get(name);
  if (family === undefined) throw new Error(`no family ${name}`);
  return family.compute(input);
}

const zeroCell = "0.5 only in zero/full studies";

describe("families of pooling and of times", () => {
  it.each<[string, Record<string, unknown>, string]>([
    ["logit-effects", { k: [3], n: [2] }, '"k[0]" must be a whole number from 0 to n[0] = 2 but is 3'],
    ["logit-effects", { k: [1, 2], n: [5] }, '"k" must have as many values as "n" (1) but has 2'],
    ["glmm", { k: [1.5], n: [5], level: 0.95 }, '"k[0]" must be a whole number of 0 or more but is 1.5'],
    ["glmm", { k: [1], n: [0], level: 0.95 }, '"n[0]" must be a whole number of 1 or more but is 0'],
    ["beta-binomial", { k: [1], n: [5], level: 1 }, '"level" must be a number above 0 and below 1 but is 1'],
    [
      "pool-logit",
      { k: [1], n: [5], method: "FE", level: 0.95, zero_cell: zeroCell },
      '"method" must be one of EE, DL, HE, PM, ML, REML but is "FE"',
    ],
    [
      "pool-logit",
      { k: [1], n: [5], method: "DL", level: 0.95, zero_cell: "all" },
      `"zero_cell" must be one of ${zeroCell} but is "all"`,
    ],
    ["zero-cell", { k: [1], n: [5], add: -1, to: "all" }, '"add" must be a number of 0 or more but is -1'],
    [
      "kaplan-meier",
      { time: [], status: [], level: 0.9 },
      '"time" must be a list of one or more values but is []',
    ],
    [
      "kaplan-meier",
      { time: [1, 2], status: [1, 2], level: 0.9 },
      '"status[1]" must be 1 (event) or 0 (censored) but is 2',
    ],
    [
      "kaplan-meier",
      { time: [-1], status: [1], level: 0.9 },
      '"time[0]" must be a number of 0 or more but is -1',
    ],
    [
      "log-rank",
      { time: [1, 2], status: [1, 1], group: ["a", "a"] },
      '"group" must hold two or more different labels but holds 1',
    ],
    ["log-rank", { time: [1, 2], status: [1, 1] }, '"group" must be a list of labels but is missing'],
    [
      "log-rank",
      { time: [1, 2], status: [1, 1], group: ["a", null] },
      '"group[1]" must be text or a number but is null',
    ],
    ["turnbull", { lower: [1, 2], upper: [2] }, '"lower" must have as many values as "upper" (1) but has 2'],
    [
      "turnbull",
      { lower: [3], upper: [2] },
      '"lower[0]" and upper must be 0 <= lower <= upper, upper above 0, but are 3 and 2',
    ],
    ["turnbull", { lower: [null], upper: [null] }, '"lower[0]" and upper are both null'],
    [
      "parametric/weibull",
      { lower: ["x"], upper: [2], coding: "event" },
      '"coding" must be "event lower==upper; right-censored upper=null',
    ],
    [
      "parametric-nofit",
      { cases: [{ lower: [1], upper: ["x"] }] },
      '"cases[0].upper[0]" must be a finite number or null but is "x"',
    ],
  ])("%s refuses %j", (name, input, message) => {
    expect(() => compute(name, input)).toThrow(message);
  });

  it("never gives a number that is not one", () => {
    const studies = [
      { k: [0, 0, 0], n: [10, 20, 30] },
      { k: [7, 7], n: [7, 7] },
      { k: [0, 9], n: [9, 9] },
      { k: [4], n: [40] },
      { k: [5, 10, 15], n: [100, 200, 300] },
    ];
    for (const counts of studies) {
      for (const family of poolingFamilies) {
        const found = family.compute({
          ...counts,
          level: 0.95,
          method: "REML",
          zero_cell: zeroCell,
          add: 0.5,
          to: "only0",
        });
        expect(holdsNaN(found), `${family.name} of ${JSON.stringify(counts)}`).toBe(false);
      }
    }
    const times = [
      { time: [5, 5, 5], status: [0, 0, 0], lower: [5, 5], upper: [null, null] },
      { time: [5, 5, 5], status: [1, 1, 1], lower: [5, 5], upper: [5, 5] },
      { time: [1, 2, 3], status: [1, 0, 1], lower: [1, 2], upper: [1, null] },
    ];
    for (const one of times) {
      for (const family of survivalFamilies) {
        const found = family.compute({
          ...one,
          level: 0.95,
          group: [1, 2, 2],
          stratum: [1, 1, 1],
          cases: [{ lower: one.lower, upper: one.upper }],
        });
        expect(holdsNaN(found), `${family.name} of ${JSON.stringify(one)}`).toBe(false);
      }
    }
  });
});

function holdsNaN(value: unknown): boolean {
  if (typeof value === "number") return Number.isNaN(value);
  return typeof value === "object" && value !== null && Object.values(value).some(holdsNaN);
}
