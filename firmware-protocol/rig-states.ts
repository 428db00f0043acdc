import type { RigMessage } from "./messages.ts";

/** State of a rig, as STATE tells it. */
export type RigState = Extract<RigMessage, { verb: "STATE" }>["state"];

/** What each state means. */
export const rigStates: Readonly<Record<RigState, string>> = {
  safe: "no current flows and none can be switched on without ARM; the state after power-up",
  armed: "no current flows; FIRE with the right token switches it on",
  on: "the source is on",
  fault: "no current flows; something dangerous happened while armed or on, and the rig waits for CLEAR",
};

/** What can happen to a rig. A hazard is an open interlock, a pressed stop button, or a source that is too hot. */
export const rigTriggers = {
  reset: "power-up, reset, or supply back after it was lost",
  hello: "HELLO with a version that the rig speaks",
  "hello-other": "HELLO with any other version",
  "arm-fit": "ARM, all of whose conditions hold",
  "arm-unfit": "ARM, one of whose conditions does not hold",
  "fire-right": "FIRE with the token of the newest READY, neither used nor expired",
  "fire-wrong": "FIRE with any other token",
  stop: "STOP",
  "clear-gone": "CLEAR, with no hazard and no fault of the source present",
  "clear-present": "CLEAR, with a hazard or a fault of the source present",
  "token-expired": "the time of the token is over",
  "beat-missing": "no BEAT for beat-ms",
  opened: "the specimen has opened, and the rig is sure of it",
  "longest-over": "the `longest` time of ARM is over since the onset",
  "hazard-begins": "a hazard appears",
  "hazard-ends": "a hazard disappears",
  "source-fault": "the source finds a fault in itself",
} as const;
export type RigTrigger = keyof typeof rigTriggers;

/**
 * What a rig does when something happens in a state: the state it goes to, and what it says of it, in this order. What is
 * said is a verb with the fields that matter; `|` parts words of which one is said.
 */
export type RigStep = { to: RigState; says: readonly string[] };

const step = (to: RigState, ...says: string[]): RigStep => ({ to, says });
const refused = (to: RigState, codes: string): RigStep => step(to, `REFUSED code=${codes}`);
const off = (to: RigState, why: string): RigStep => step(to, `EVENT kind=off why=${why}`, "STATE");
const boot = step("safe", "STATE");
const hazards = "stop-button|interlock|over-temperature";

/** Every step of a rig; null where something cannot happen. Where nothing is said, the rig is silent. */
export const rigSteps: Readonly<Record<RigTrigger, Readonly<Record<RigState, RigStep | null>>>> = {
  reset: { safe: boot, armed: boot, on: boot, fault: boot },
  hello: {
    safe: step("safe", "IDENT"),
    armed: step("armed", "IDENT"),
    on: step("on", "IDENT"),
    fault: step("fault", "IDENT"),
  },
  "hello-other": {
    safe: refused("safe", "version"),
    armed: refused("armed", "version"),
    on: refused("on", "version"),
    fault: refused("fault", "version"),
  },
  "arm-fit": {
    safe: step("armed", "READY", "STATE"),
    armed: refused("armed", "not-safe"),
    on: refused("on", "not-safe"),
    fault: refused("fault", "fault-present"),
  },
  "arm-unfit": {
    safe: refused("safe", `${hazards}|fault-present|result-pending|out-of-range`),
    armed: refused("armed", "not-safe"),
    on: refused("on", "not-safe"),
    fault: refused("fault", `${hazards}|fault-present`),
  },
  "fire-right": {
    safe: null,
    armed: step("on", "OK", "STATE", "EVENT kind=onset"),
    on: null,
    fault: null,
  },
  "fire-wrong": {
    safe: refused("safe", "not-armed|token-expired"),
    armed: refused("armed", "wrong-token"),
    on: refused("on", "not-armed"),
    fault: refused("fault", "not-armed"),
  },
  stop: {
    safe: step("safe", "OK"),
    armed: step("safe", "OK", "STATE"),
    on: step("safe", "OK", "EVENT kind=off why=host-stop", "STATE"),
    fault: step("fault", "OK"),
  },
  "clear-gone": {
    safe: step("safe", "OK"),
    armed: step("armed", "OK"),
    on: step("on", "OK"),
    fault: step("safe", "OK", "STATE"),
  },
  "clear-present": {
    safe: step("safe", "OK"),
    armed: null,
    on: null,
    fault: refused("fault", "fault-present"),
  },
  "token-expired": { safe: null, armed: step("safe", "STATE"), on: null, fault: null },
  "beat-missing": {
    safe: step("safe"),
    armed: step("safe", "STATE"),
    on: off("safe", "heartbeat-lost"),
    fault: step("fault"),
  },
  opened: {
    safe: null,
    armed: null,
    on: step("safe", "EVENT kind=opening", "EVENT kind=off why=opened", "STATE"),
    fault: null,
  },
  "longest-over": { safe: null, armed: null, on: off("safe", "longest-time"), fault: null },
  "hazard-begins": {
    safe: step("safe", "STATE"),
    armed: step("fault", "STATE"),
    on: off("fault", hazards),
    fault: step("fault", "STATE"),
  },
  "hazard-ends": { safe: step("safe", "STATE"), armed: null, on: null, fault: step("fault", "STATE") },
  "source-fault": {
    safe: step("safe", "STATE"),
    armed: step("fault", "STATE"),
    on: off("fault", "source-fault"),
    fault: step("fault", "STATE"),
  },
};
