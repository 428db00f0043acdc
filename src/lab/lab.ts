import type { MeasurementBasis } from "../contract/ledger-entries.ts";
import type { Store } from "../store/open-store.ts";
import type { LimitLibrary } from "./limit-library.ts";

/** One lab at work: its store, its limit sets, its clock, and who is acting. */
export interface Lab {
  store: Store;
  limits: LimitLibrary;
  now: () => Date;
  actor: string;
  /** Sequence of the entry under which the actor signed in; left out where nobody did. */
  signIn?: number;
}

/**
 * What the uncertainty of a shot rests on until the lab has entered calibration records of its own rig.
 * The percentage and the pick-up are working values of ours, not measured ones, and say so wherever they are used.
 */
export const uncalibratedBasis = (timerSeconds: number): MeasurementBasis => ({
  currentPercent: 1,
  currentK: 2,
  timerSeconds,
  regulationPercent: 2,
  pickup: 1.15,
  from: "working values of this program: current 1 % (k = 2), regulation within 2 %, pick-up 1.15 times rating; no calibration record of the rig has been entered",
});
