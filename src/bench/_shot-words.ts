import type { OffReason } from "../core/signal/shot-signal.ts";
import type { RigState } from "./session-events.ts";

/** Why the source went off, in words; "host-stop" is told by what made the host stop. */
export const offWords: Readonly<Record<Exclude<OffReason, "host-stop">, string>> = {
  opened: "the specimen opened",
  "longest-time": "the rig ended the shot at its hard maximum on-time",
  "heartbeat-lost": "the rig missed the heartbeat and switched off",
  interlock: "the interlock of the test area opened",
  "over-temperature": "the current source became too hot",
  "stop-button": "the hard-wired stop button was pressed",
  "source-fault": "the current source failed",
  "link-lost": "the line to the rig was lost",
  "host-died": "the program on the host ended",
};

/** What in the rig's state forbids current, in words; null if nothing does. */
export function dangerIn(state: RigState): string | null {
  if (state.interlock === "open") return "the interlock of the test area is open";
  if (state.button === "pressed") return "the hard-wired stop button is pressed";
  return state.state === "fault" ? "the rig is in its fault state" : null;
}

export function wordsOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
