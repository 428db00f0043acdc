import { describe, it } from "vitest";
import { jeffreys } from "../../src/core/stats/jeffreys.ts";
import { expectPrinted } from "./printed.ts";

// Brown L D, Cai T T, DasGupta A (2001) Stat Sci 16:101-133, Jeffreys interval, 95 %

describe("Brown, Cai & DasGupta 2001, as printed (seen where a public test suite quotes it)", () => {
  it.each([[0, 20, "0.000", "0.117"]])("Jeffreys interval of %d of %d", (k, n, lower, upper) => {
    const interval = jeffreys(k, n, 0.95);
    expectPrinted(interval.lower, lower);
    expectPrinted(interval.upper, upper);
  });

  it("Jeffreys upper limit of 1 of 29", () => {
    expectPrinted(jeffreys(1, 29, 0.95).upper, "0.150");
  });
});
