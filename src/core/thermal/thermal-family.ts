import type { Family } from "../stats/family.ts";
import { fitTripModel } from "./fit-trip-model.ts";
import type { TripShot } from "./trip-log-likelihood.ts";
import { tripSeconds } from "./trip-time.ts";

/** Multiples at which `thermal-ml` predicts the median trip time. */
const predictedMultiples = [1.35, 1.5, 2, 3, 6];

const kinds = { event: "tripped", right: "held", interval: "interval" } as const;

function list(input: Readonly<Record<string, unknown>>, key: string, length?: number): unknown[] {
  const value = input[key];
  if (!Array.isArray(value) || (length !== undefined && value.length !== length)) {
    const wanted = length === undefined ? "a list" : `a list of ${length}, as long as m`;
    throw new RangeError(`${key}: expected ${wanted} but found ${JSON.stringify(value)}`);
  }
  return value;
}

function number(value: unknown, key: string): number {
  if (typeof value === "number" && Number.isFinite(value)) return value;
  throw new RangeError(`${key}: expected a finite number but found ${JSON.stringify(value)}`);
}

/** The trip model of one time constant, fitted by maximum likelihood, for computing from plain data. */
export const thermalFamily: Family = {
  name: "thermal-ml",
  about:
    "trip model t = tau ln(m^2 / (m^2 - p^2)) with lognormal scatter, maximum likelihood with censoring; loglik is that of ln t",
  inputs: {
    m: "list of multiples of rated current",
    t: "list of times in seconds",
    t_upper: "list of upper times in seconds, null where the kind is not interval",
    kind: "list of event | right | interval",
    p_fixed: "pick-up multiple to hold, or null to fit it",
  },
  outputs: {
    tau: "time constant, seconds",
    p: "pick-up multiple",
    sigma: "standard deviation of ln t",
    se_log_tau: "standard error of ln tau",
    se_p: "standard error of p, null where p is held",
    se_log_sigma: "standard error of ln sigma",
    loglik: "log-likelihood of ln t",
    predict_median_t: `median time at ${predictedMultiples.join(", ")} times rating, seconds`,
  },
  compute: (input) => {
    const m = list(input, "m");
    const t = list(input, "t", m.length);
    const upper = input.t_upper == null ? m.map(() => null) : list(input, "t_upper", m.length);
    const kind = list(input, "kind", m.length);
    const shots = m.map((multiple, i): TripShot => {
      const name = kind[i];
      if (name !== "event" && name !== "right" && name !== "interval") {
        throw new RangeError(
          `kind[${i}]: expected event, right or interval but found ${JSON.stringify(name)}`,
        );
      }
      return {
        multiple: number(multiple, `m[${i}]`),
        seconds: number(t[i], `t[${i}]`),
        kind: kinds[name],
        ...(name === "interval" ? { secondsUpper: number(upper[i], `t_upper[${i}]`) } : {}),
      };
    });
    const fitted = fitTripModel(
      shots,
      input.p_fixed == null ? {} : { pickup: number(input.p_fixed, "p_fixed") },
    );
    if (!fitted.estimable) {
      const keys = ["tau", "p", "sigma", "se_log_tau", "se_p", "se_log_sigma", "loglik", "predict_median_t"];
      return Object.fromEntries(keys.map((key) => [key, null]));
    }
    const model = { tauSeconds: fitted.tau, pickup: fitted.pickup };
    return {
      tau: fitted.tau,
      p: fitted.pickup,
      sigma: fitted.sigma,
      se_log_tau: fitted.seLogTau,
      se_p: fitted.sePickup,
      se_log_sigma: fitted.seLogSigma,
      loglik: fitted.logLikelihood,
      predict_median_t: predictedMultiples.map((multiple) => tripSeconds(model, multiple)),
    };
  },
};
