import { roundDecimals, roundSignificant } from "../units/round.ts";
import type { CurrentFigures } from "./_current-figures.ts";
import { regulationFlag } from "./_regulation-flag.ts";
import { type Detection, tripUncertainty } from "./_trip-uncertainty.ts";
import { orderedFlags } from "./flags.ts";
import type { Reading, ReadingFlag } from "./reading.ts";
import { circumstanceFlags, type ReadingContext } from "./reading-context.ts";
import { timeAtNominal } from "./time-at-nominal.ts";

/** What samples of either kind come to, before rounding. Times in seconds from any one origin. */
export interface Observed {
  outcome: Reading["outcome"];
  /** Null where the recording does not show it. */
  onset: Detection | null;
  end: Detection;
  heldSeconds: number;
  /** Null where no current flowed. */
  current: CurrentFigures | null;
  flags: readonly ReadingFlag[];
  samples: number;
}

/** Times are kept to the microsecond, the rig's own tick; currents to the microampere. */
const decimals = 6;

/** Turns what was observed into a reading: time, uncertainty, time at target, flags, everything rounded. */
export function assembleReading(observed: Observed, context: ReadingContext): Reading {
  const { outcome, onset, end, current } = observed;
  const effectiveAmps = current?.effectiveAmps ?? 0;
  const multiple = effectiveAmps / context.ratedAmps;
  const time = outcome === "tripped" && onset !== null ? tripTime(onset, end) : null;
  const sensitivity = time === null || current === null ? null : context.sensitivity(multiple, time.seconds);
  const regulation = current && regulationFlag(current, context.targetAmps, context.regulationPercent / 100);
  return {
    outcome,
    seconds: time?.seconds ?? null,
    interval: time?.interval ?? null,
    heldSeconds: roundDecimals(Math.max(0, observed.heldSeconds), decimals),
    effectiveAmps: roundDecimals(effectiveAmps, decimals),
    lowestAmps: roundDecimals(current?.lowestAmps ?? 0, decimals),
    highestAmps: roundDecimals(current?.highestAmps ?? 0, decimals),
    multiple: roundSignificant(multiple, 9),
    targetAmps: context.targetAmps,
    uncertainty:
      time !== null && onset !== null && sensitivity !== null
        ? tripUncertainty(time.seconds, multiple, onset, end, sensitivity, context.basis)
        : null,
    flags: orderedFlags([
      ...observed.flags,
      ...circumstanceFlags(context),
      ...(regulation === null ? [] : [regulation]),
    ]),
    samples: observed.samples,
    ...(time !== null && sensitivity !== null
      ? {
          atTarget: {
            seconds: roundDecimals(
              timeAtNominal(time.seconds, effectiveAmps, context.targetAmps, sensitivity.slope),
              decimals,
            ),
            slope: roundSignificant(sensitivity.slope),
            model: sensitivity.model,
          },
        }
      : {}),
    ...(current?.steadiness
      ? {
          steadiness: {
            driftAmpsPerMinute: roundDecimals(current.steadiness.driftAmpsPerMinute, decimals),
            rippleAmps: roundDecimals(current.steadiness.rippleAmps, decimals),
          },
        }
      : {}),
  };
}

function tripTime(onset: Detection, end: Detection) {
  const lower = Math.max(0, end.lower - onset.upper);
  const upper = Math.max(lower, end.upper - onset.lower);
  const seconds = Math.min(upper, Math.max(lower, end.point - onset.point));
  return {
    seconds: roundDecimals(seconds, decimals),
    interval: { lower: roundDecimals(lower, decimals), upper: roundDecimals(upper, decimals) },
  };
}
