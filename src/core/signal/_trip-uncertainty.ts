import { roundSignificant } from "../units/round.ts";
import { mapEndPoints } from "./map-end-points.ts";
import type { TimeUncertainty } from "./reading.ts";
import type { ReadingContext } from "./reading-context.ts";
import type { Sensitivity } from "./sensitivity.ts";
import { type Contribution, divisors, uncertaintyBudget } from "./uncertainty-budget.ts";

/** How far a slope's ends may be from the mapped ones, as a part of the slope's own, before mapping takes its place. */
const slopeSuffices = 0.1;

/** One detected instant: its interval and best point, in seconds. */
export interface Detection {
  lower: number;
  upper: number;
  point: number;
}

/**
 * Uncertainty of a measured trip time: the current through the model's sensitivity, the timer, the detection of onset and of
 * opening. A single trip has no spread of its own: the specimen's repeatability is not among the contributions.
 */
export function tripUncertainty(
  seconds: number,
  multiple: number,
  onset: Detection,
  opening: Detection,
  sensitivity: Sensitivity,
  basis: ReadingContext["basis"],
): TimeUncertainty {
  const relative = basis.currentPercent / 100;
  const linear = Math.abs(sensitivity.slope) * seconds * relative;
  const mapped =
    sensitivity.timeAt === undefined ? null : mapEndPoints(seconds, multiple, relative, sensitivity.timeAt);
  const worst = mapped === null ? 0 : Math.max(mapped.upper - seconds, seconds - mapped.lower);
  const mapping = mapped !== null && Math.abs(worst - linear) > slopeSuffices * linear;
  const bounded = mapping && Number.isFinite(worst);
  const spread = bounded ? worst : linear;

  const contributions: Contribution[] = [
    {
      contribution: "current, through the sensitivity of the trip time",
      value: basis.currentPercent,
      unit: "% of current",
      distribution: "normal",
      divisor: basis.currentK,
      sensitivity: basis.currentPercent === 0 ? 0 : spread / basis.currentPercent,
      degreesOfFreedom: basis.currentDegreesOfFreedom ?? null,
    },
    {
      contribution: "timer",
      value: basis.timerSeconds,
      unit: "s",
      distribution: "normal",
      divisor: 1,
      sensitivity: 1,
      degreesOfFreedom: null,
    },
    detection("detection of the onset", onset),
    detection("detection of the opening", opening),
  ];
  const uncertainty = withDominance(
    uncertaintyBudget(contributions, inWords(sensitivity.model, mapping, bounded)),
  );
  if (!mapping || mapped === null) return uncertainty;
  const upper = Number.isFinite(mapped.upper) ? roundSignificant(mapped.upper) : null;
  return { ...uncertainty, endPoints: { lower: roundSignificant(mapped.lower), upper } };
}

/** The farther end of the interval counts, so that a point near one end is not taken for a centre. */
function detection(contribution: string, { lower, upper, point }: Detection): Contribution {
  return {
    contribution,
    value: Math.max(upper - point, point - lower, 0),
    unit: "s",
    distribution: "rectangular",
    divisor: divisors.rectangular,
    sensitivity: 1,
    degreesOfFreedom: null,
  };
}

/** Source: JCGM 100:2008, G.2.3 and G.6.5: with one rectangular term dominant the result is not nearly normal. */
function withDominance(uncertainty: TimeUncertainty): TimeUncertainty {
  const dominant = uncertainty.budget.find((line) => line.distribution === "rectangular" && line.share > 0.5);
  if (dominant === undefined) return uncertainty;
  const note = `the ${dominant.contribution} dominates and is rectangular, so that U covers more than 95 %`;
  return { ...uncertainty, model: `${uncertainty.model}; ${note}` };
}

function inWords(model: string, mapping: boolean, bounded: boolean): string {
  if (!mapping) return `${model}; slope at the measured current`;
  if (bounded)
    return `${model}; times mapped at the ends of the current's uncertainty, the wider side counted`;
  return `${model}; at the lower end of the current's uncertainty it would not trip, so that the slope's U is too small`;
}
