import type { Requirement } from "./limit-set.ts";

/** Limits as a person enters them, in seconds. */
export interface EnteredLimits {
  require: "trip" | "hold";
  limitSeconds?: number | undefined;
  lowerSeconds?: number | undefined;
}

/**
 * The requirement that entered limits mean: a trip within the limit, a trip between both, or a hold for the limit.
 *
 * @throws RangeError if a limit that is needed is absent, or one is given that has no meaning, is not positive, or not below the other
 */
export function requirementFrom({ require, limitSeconds, lowerSeconds }: EnteredLimits): Requirement {
  if (limitSeconds === undefined)
    throw new RangeError(`a ${require} requirement needs a limit in seconds; none was given`);
  if (!(limitSeconds > 0 && Number.isFinite(limitSeconds)))
    throw new RangeError(`the limit must be a positive number of seconds but is ${limitSeconds}`);
  if (lowerSeconds === undefined) {
    return require === "hold"
      ? { kind: "hold-for", seconds: limitSeconds }
      : { kind: "trip-within", maxSeconds: limitSeconds };
  }
  if (require === "hold")
    throw new RangeError(
      `a hold has one time only; found a lower limit of ${lowerSeconds} s beside the limit of ${limitSeconds} s`,
    );
  if (!(lowerSeconds > 0 && lowerSeconds < limitSeconds))
    throw new RangeError(
      `the lower limit must be positive and below the limit of ${limitSeconds} s but is ${lowerSeconds}`,
    );
  return { kind: "trip-between", minSeconds: lowerSeconds, maxSeconds: limitSeconds };
}
