import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { fitTripModel } from "../../../src/core/thermal/fit-trip-model.ts";
import { thermalFamily } from "../../../src/core/thermal/thermal-family.ts";
import { type TripShot, tripLogLikelihood } from "../../../src/core/thermal/trip-log-likelihood.ts";

type Value = number | string | null | Value[];
const fixture = join(import.meta.dirname, "../../fixtures/reference/thermal-ml.json");
const { records } = JSON.parse(readFileSync(fixture, "utf8")) as {
  records: { id: string; inputs: Record<string, unknown>; outputs: Record<string, Value> }[];
};

function expectClose(found: unknown, wanted: Value, where: string): void {
  if (Array.isArray(wanted)) {
    wanted.forEach((one, i) => {
      expectClose((found as unknown[])[i], one, `${where}[${i}]`);
    });
  } else if (wanted === "Infinity") expect(found, where).toBe(Number.POSITIVE_INFINITY);
  else if (typeof wanted !== "number") expect(found, where).toBe(wanted);
  else expect(Math.abs((found as number) - wanted), where).toBeLessThanOrEqual(1e-5 * Math.abs(wanted));
}

describe("fitTripModel", () => {
  it.each(records)("agrees with R: $id", ({ inputs, outputs }) => {
    const found = thermalFamily.compute(inputs);
    for (const [key, wanted] of Object.entries(outputs)) expectClose(found[key], wanted, key);
  });

  const shots: TripShot[] = [
    { multiple: 1.35, kind: "tripped", seconds: 905 },
    { multiple: 1.35, kind: "held", seconds: 1010 },
    { multiple: 2, kind: "interval", seconds: 149, secondsUpper: 165 },
    { multiple: 2, kind: "tripped", seconds: 170, preload: 0 },
    { multiple: 3, kind: "tripped", seconds: 61.2 },
    { multiple: 3, kind: "tripped", seconds: 50, preload: 0.5 },
    { multiple: 6, kind: "tripped", seconds: 14.1 },
  ];

  it("has derivatives that are those of its likelihood", () => {
    const at = [Math.log(300), 1.2, Math.log(0.2)] as [number, number, number];
    const { gradient, hessian } = tripLogLikelihood(shots, at);
    const h = 1e-5;
    for (const u of [0, 1, 2] as const) {
      const up = [...at] as [number, number, number];
      const down = [...at] as [number, number, number];
      up[u] += h;
      down[u] -= h;
      const above = tripLogLikelihood(shots, up);
      const below = tripLogLikelihood(shots, down);
      expect(gradient[u]).toBeCloseTo((above.value - below.value) / (2 * h), 4);
      for (const v of [0, 1, 2] as const)
        expect(hessian[u][v]).toBeCloseTo((above.gradient[v] - below.gradient[v]) / (2 * h), 3);
    }
  });

  it("stands on a summit, and its bounds lie half a chi-squared quantile below it", () => {
    const fitted = fitTripModel(shots);
    if (!fitted.estimable) throw new Error(fitted.advice);
    const { gradient } = tripLogLikelihood(shots, [
      Math.log(fitted.tau),
      fitted.pickup,
      Math.log(fitted.sigma),
    ]);
    for (const slope of gradient) expect(Math.abs(slope)).toBeLessThan(1e-6);
    const { lower, upper } = fitted.bounds.pickup;
    for (const pickup of [lower, upper]) {
      if (pickup === null) continue;
      const there = fitTripModel(shots, { pickup });
      if (!there.estimable) throw new Error(there.advice);
      expect(fitted.logLikelihood - there.logLikelihood).toBeCloseTo(3.841458820694124 / 2, 5);
    }
    expect(lower === null || lower < fitted.pickup).toBe(true);
    expect(upper === null || upper > fitted.pickup).toBe(true);
  });

  it("does not depend on the unit of time, but for tau and the bounds of tau", () => {
    const a = fitTripModel(shots);
    const b = fitTripModel(
      shots.map((shot) => ({
        ...shot,
        seconds: shot.seconds * 60,
        ...(shot.secondsUpper === undefined ? {} : { secondsUpper: shot.secondsUpper * 60 }),
      })),
    );
    if (!a.estimable || !b.estimable) throw new Error("not estimable");
    expect(b.tau / a.tau).toBeCloseTo(60, 6);
    expect(b.pickup).toBeCloseTo(a.pickup, 8);
    expect((b.bounds.tau.lower ?? 0) / (a.bounds.tau.lower ?? 1)).toBeCloseTo(60, 4);
  });

  it("says what is missing where nothing tripped, or only one multiple did", () => {
    const held = fitTripModel([{ multiple: 1.35, kind: "held", seconds: 3600 }]);
    expect(held).toEqual({ estimable: false, advice: expect.stringContaining("higher multiple") });
    const one = fitTripModel([40, 44, 47].map((seconds) => ({ multiple: 2, kind: "tripped", seconds })));
    expect(one.estimable && one.determined).toBe(false);
    expect(one.advice).toContain("another multiple");
  });

  it("refuses what is not a shot, by its number", () => {
    expect(() => fitTripModel([{ multiple: 2, kind: "tripped", seconds: Number.NaN }])).toThrow(
      "shot 1: seconds must be above 0 but is NaN",
    );
    expect(() => fitTripModel([{ multiple: 2, kind: "interval", seconds: 3, secondsUpper: 2 }])).toThrow(
      "seconds_upper must be above 3 but is 2",
    );
    expect(() => fitTripModel([{ multiple: 2, kind: "tripped", seconds: 3, preload: 2 }])).toThrow(
      "preload 2",
    );
  });
});
