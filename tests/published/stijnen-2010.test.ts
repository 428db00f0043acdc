import { describe, expect, it } from "vitest";
import { binomialNormal } from "../../src/core/stats/binomial-normal.ts";
import { poolableLogits } from "../../src/core/stats/logit-effects.ts";
import { poolEffects } from "../../src/core/stats/pool-effects.ts";
import { referenceStudies } from "./_reference-inputs.ts";

// Stijnen T, Hamza T H, Özdemir P (2010) Stat Med 29:3046-3067, Table II: infections with catheters, from Niel-Weise et al.
const control = referenceStudies("logit-effects", "logit-effects/nielweise_control");
const treated = referenceStudies("logit-effects", "logit-effects/nielweise_treated");

describe("Stijnen, Hamza and Özdemir (2010), Table II", () => {
  it("normal-normal model (REML)", () => {
    for (const [studies, mu, se, tau2] of [
      [control, -3.3018, 0.2378, 0.6629],
      [treated, -4.2604, 0.2589, 0.3928],
    ] as const) {
      const pooled = poolEffects(poolableLogits(studies), "REML", 0.95);
      expect(pooled.estimate).toBeCloseTo(mu, 4);
      expect(pooled.standardError).toBeCloseTo(se, 4);
      expect(pooled.tau2).toBeCloseTo(tau2, 4);
    }
  });

  it("binomial-normal model; printed with seven nodes, exact values beside", () => {
    for (const [studies, printed, exact] of [
      [control, { mu: -3.4964, se: 0.257, tau2: 0.8124 }, { mu: -3.496409, se: 0.256969, tau2: 0.812214 }],
      [treated, { mu: -4.8121, se: 0.3555, tau2: 0.8265 }, { mu: -4.81185, se: 0.355199, tau2: 0.825323 }],
    ] as const) {
      const fit = binomialNormal(studies, 0.95);
      expect(fit?.mu).toBeCloseTo(exact.mu, 6);
      expect(fit?.standardError).toBeCloseTo(exact.se, 6);
      expect(fit?.tau2).toBeCloseTo(exact.tau2, 6);
      expect(Math.abs((fit?.mu ?? 0) - printed.mu)).toBeLessThan(5e-4);
      expect(Math.abs((fit?.standardError ?? 0) - printed.se)).toBeLessThan(5e-4);
      expect(Math.abs((fit?.tau2 ?? 0) - printed.tau2)).toBeLessThan(2e-3);
    }
  });
});
