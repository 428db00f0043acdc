import type { CurrentShot, RigView } from "../../src/contract/http.ts";
import type { HostEnd } from "../../src/core/signal/shot-signal.ts";
import type { Loading, OperationState } from "../../src/core/specimen/specimen.ts";

/** The states of a shot in the order in which they pass, in words for the person at the bench. */
export const shotStates: readonly { state: CurrentShot["state"]; short: string; words: string }[] = [
  { state: "checks", short: "Checks", words: "Checking the rig and its interlock" },
  { state: "arm", short: "Arming", words: "Arming the rig" },
  { state: "inject", short: "Current on", words: "Switching the current on" },
  { state: "watch", short: "Watching", words: "Current on" },
  { state: "end", short: "Current off", words: "Switching the current off" },
  { state: "settle", short: "Settling", words: "Current off: waiting for the rig's own result" },
  { state: "record", short: "Recording", words: "Writing the record" },
];

/** What the bench is doing with a shot; while current flows, also what is waited for. */
export function courseWords({ state, point }: Pick<CurrentShot, "state" | "point">): string {
  const words = shotStates.find((one) => one.state === state)?.words ?? "";
  if (state !== "watch") return words;
  return `${words}: ${point.row.requirement.kind === "hold-for" ? "the breaker must hold" : "waiting for the breaker to open"}`;
}

/** States in which current may flow through the leads. */
export function currentMayFlow(state: CurrentShot["state"]): boolean {
  return state === "inject" || state === "watch" || state === "end";
}

export const rigStateWords: Readonly<Record<RigView["state"], string>> = {
  absent: "Not connected",
  safe: "Safe: current off",
  armed: "Armed: current can be switched on",
  on: "Current on",
  fault: "Fault",
};

/** As-found, or how often it was operated since. */
export function operationWords(state: OperationState): string {
  if (state.kind === "as-found") return "as found";
  if (state.operations === 0) return "exercised, not operated";
  return `exercised, operated ${state.operations} ${state.operations === 1 ? "time" : "times"}`;
}

/** Which poles carry the current. */
export function loadingWords(loading: Loading, poles: number): string {
  if (loading !== "all") return `pole ${loading.slice(-1)} alone`;
  return poles === 1 ? "its one pole" : `all ${poles} poles in series`;
}

/** How and where the leads go. */
export function leadsWords(loading: Loading, poles: number): string {
  if (loading === "all" && poles > 1)
    return `Bridge the ${poles} poles so that one current passes through all, one after the other.`;
  const pole = loading === "all" ? "1" : loading.slice(-1);
  return poles === 1
    ? "Clamp one lead on the line side, one on the load side."
    : `Clamp one lead on each side of pole ${pole}. Leave the other poles free.`;
}

/** Who or what ended a shot. */
export const endWords: Readonly<Record<HostEnd, string>> = {
  limit: "The programme ended the test after its time limit.",
  operator: "The operator stopped the test.",
  interlock: "The interlock of the test area opened.",
  "link-lost": "The line to the rig was lost.",
  "host-died":
    "The bench program ended in the middle of the test; the record was closed when it started again.",
  "rig-ended": "The rig ended the test.",
};
