import { conformance } from "../core/limits/conformity.ts";
import { globalRisk } from "../core/limits/global-risk.ts";
import { guardBand } from "../core/limits/guard-band.ts";
import { combine } from "../core/signal/gum.ts";
import type { Family } from "../core/stats/family.ts";
import { type FamilyInput, readNumber, readNumbers, readProbability } from "../core/stats/family-input.ts";

/** A number that may be infinite, as `decodeInfinities` leaves it. @throws RangeError naming the input */
function limit(input: FamilyInput, key: string): number {
  const value = input[key];
  if (typeof value === "number" && !Number.isNaN(value)) return value;
  throw new RangeError(
    `"${key}" must be a number, "Infinity" or "-Infinity" but is ${JSON.stringify(value)}`,
  );
}

function limits(input: FamilyInput, key: string): number[] {
  const value = input[key];
  if (!Array.isArray(value)) throw new RangeError(`"${key}" must be a list but is ${JSON.stringify(value)}`);
  return value.map((one, at) => limit({ [`${key}[${at}]`]: one }, `${key}[${at}]`));
}

const infinite = 'may be "Infinity" or "-Infinity"';

/** Uncertainty and conformity, for computing from plain data. */
export const measurementFamilies: readonly Family[] = [
  {
    name: "gum",
    about:
      "combined standard uncertainty, effective degrees of freedom (Welch-Satterthwaite), expanded uncertainty (JCGM 100)",
    inputs: {
      contributions: "list of standard uncertainties times their sensitivities",
      degrees_of_freedom: 'list of degrees of freedom, each may be "Infinity"',
      coverage_probability: "between 0 and 1",
    },
    outputs: {
      u_c: "combined standard uncertainty",
      nu_eff: "effective degrees of freedom",
      nu_eff_truncated: "truncated to the next lower whole number",
      k_truncated: "coverage factor from the t distribution with that number",
      U_truncated: "expanded uncertainty with that factor",
    },
    compute: (input) => ({
      ...combine({
        contributions: readNumbers(input, "contributions"),
        degrees_of_freedom: limits(input, "degrees_of_freedom"),
        coverage_probability: readProbability(input, "coverage_probability"),
      }),
    }),
  },
  {
    name: "conformance",
    about: "probability of conformity for a normal state of knowledge (JCGM 106 clause 7)",
    inputs: {
      y: "measured value",
      u: "its standard uncertainty",
      T_L: `lower tolerance limit, ${infinite}`,
      T_U: `upper tolerance limit, ${infinite}`,
    },
    outputs: { p_c: "probability of conformity", p_nonconforming: "1 - p_c" },
    compute: (input) =>
      conformance({
        y: readNumber(input, "y"),
        u: readNumber(input, "u"),
        T_L: limit(input, "T_L"),
        T_U: limit(input, "T_U"),
      }),
  },
  {
    name: "guard-band",
    about:
      "guard band for a wanted probability of conformity: one-sided g = z u = r U with U = 2 u; with both limits the acceptance interval",
    inputs: {
      p_c: "wanted probability of conformity",
      u: "standard uncertainty",
      T_L: "lower tolerance limit, or left out",
      T_U: "upper tolerance limit, or left out",
    },
    outputs: {
      z: "normal quantile",
      g: "guard band",
      r: "guard band over U = 2 u",
      acceptance: "interval of acceptance, null where there is none; only with both limits",
    },
    compute: (input) => {
      const both = input.T_L != null && input.T_U != null;
      const finite = both && Number.isFinite(input.T_L) && Number.isFinite(input.T_U);
      return guardBand({
        p_c: readProbability(input, "p_c"),
        u: readNumber(input, "u"),
        ...(finite ? { T_L: readNumber(input, "T_L"), T_U: readNumber(input, "T_U") } : {}),
      });
    },
  },
  {
    name: "global-risk",
    about: "global consumer's and producer's risk, normal prior and normal error (JCGM 106 clause 9)",
    inputs: {
      x0: "mean of the items",
      u0: "standard deviation of the items",
      u_m: "standard uncertainty of the measurement",
      T_L: `lower tolerance limit, ${infinite}`,
      T_U: `upper tolerance limit, ${infinite}`,
      A_L: `lower acceptance limit, ${infinite}`,
      A_U: `upper acceptance limit, ${infinite}`,
    },
    outputs: {
      global_consumer_risk: "does not conform and is accepted",
      global_producer_risk: "conforms and is rejected",
      p_conforming: "conforms",
      p_accepted: "is accepted",
    },
    compute: (input) => ({
      ...globalRisk({
        x0: readNumber(input, "x0"),
        u0: readNumber(input, "u0"),
        u_m: readNumber(input, "u_m"),
        T_L: limit(input, "T_L"),
        T_U: limit(input, "T_U"),
        A_L: limit(input, "A_L"),
        A_U: limit(input, "A_U"),
      }),
    }),
  },
];
