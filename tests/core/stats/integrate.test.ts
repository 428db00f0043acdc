import { describe, expect, it } from "vitest";
import { integrate } from "../../../src/core/stats/integrate.ts";
import { expectRelative } from "./close-to.ts";

describe("integrate", () => {
  it.each([
    ["a polynomial", (x: number) => 3 * x * x, 0, 2, 8],
    ["a bell", (x: number) => Math.exp(-x * x), -10, 10, Math.sqrt(Math.PI)],
    ["a logarithm with its singularity", (x: number) => Math.log(x), 0, 1, -1],
    ["an inverse square root", (_: number, fromLow: number) => 1 / Math.sqrt(fromLow), 3, 4, 2],
    ["singularities at both ends", (_: number, a: number, b: number) => 1 / Math.sqrt(a * b), 0, 5, Math.PI],
  ] as const)("integrates %s", (_name, f, low, high, wanted) => {
    expectRelative(integrate(f, low, high), wanted, 1e-13);
  });

  it("gives 0 over an empty interval", () => {
    expect(integrate(() => 1, 2, 2)).toBe(0);
    expect(integrate(() => 1, 3, 2)).toBe(0);
  });
});
