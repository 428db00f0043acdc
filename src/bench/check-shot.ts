import type { Loading } from "../core/specimen/specimen.ts";
import type { RigSession } from "./rig-session.ts";

/** What a shot is to be. */
export interface ShotOrder {
  /** Number of the shot, 1 to 4294967295; the rig repeats it in every line. */
  shot: number;
  targetAmps: number;
  ratedAmps: number;
  loading: Loading;
  /** On-time at which the host ends the shot: the limit and its margin. */
  endAtSeconds: number;
  /** On-time at which the rig ends it by itself; not below `endAtSeconds`. */
  longestSeconds: number;
  /** Window of each sample. */
  every: "cycle" | "half-cycle";
  /** Raw samples wanted around the onset and around the opening, 0 to 4096. */
  rawSamples: number;
}

/**
 * What forbids a shot, in whole sentences: the order, or the rig as it is now. Empty if nothing does.
 */
export function whatForbids(order: ShotOrder, session: RigSession): string[] {
  const found: string[] = [];
  const within = (name: string, value: number, lowest: number, highest: number, unit: string): void => {
    if (!(value >= lowest && value <= highest))
      found.push(`${name} is ${value}${unit}; accepted: ${lowest} to ${highest}${unit}`);
  };
  const { identity, state } = session;
  if (!session.connected || identity === null || state === null)
    return [`the rig at ${session.link.address} is not connected`];

  if (!Number.isInteger(order.shot))
    found.push(`the number of the shot is ${order.shot}; a whole number is needed`);
  within("the number of the shot", order.shot, 1, 4_294_967_295, "");
  within("the current", order.targetAmps, identity.lowestAmps, identity.highestAmps, " A");
  within("the rated current", order.ratedAmps, 0.001, 10_000, " A");
  within("the rig's hard maximum on-time", order.longestSeconds, 0.001, identity.longestSeconds, " s");
  within("the end of the test", order.endAtSeconds, 0.001, order.longestSeconds, " s");
  within("the number of raw samples", order.rawSamples, 0, 4096, "");
  if (state.interlock === "open")
    found.push("the interlock of the test area is open; close the area, then try again");
  if (state.button === "pressed")
    found.push("the hard-wired stop button is pressed; find out why, release it, then try again");
  if (state.state === "fault")
    found.push("the rig is in its fault state; remove the cause, clear the fault, then try again");
  else if (state.state !== "safe") found.push(`the rig's state is "${state.state}"; only "safe" is accepted`);
  return found;
}
