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
  hello: "HELLO",
  "arm-fit": "ARM, all of whose conditions hold",
  "arm-unfit": "ARM, one of whose conditions does not hold",
  "fire-right": "FIRE with the token of the newest READY, not yet used or expired",
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

/** What a rig does when something happens in a state: the state it goes to, and what it says of it, in order. */
export type RigStep = { to: RigState; says: string };

const stay = (to: RigState, says = ""): RigStep => ({ to, says });
const refused = (to: RigState, code: string): RigStep => ({ to, says: `REFUSED code=${code}` });
const off = (to: RigState, why: string): RigStep => ({ to, says: `EVENT kind=off why=${why}, STATE` });
const boot: RigStep = { to: "safe", says: "STATE, numbered 0000" };
const identify = (to: RigState): RigStep => ({ to, says: "IDENT lines, or REFUSED code=version" });

/** Every step of a rig. Where `says` is empty, the rig is silent. */
export const rigSteps: Readonly<Record<RigTrigger, Readonly<Record<RigState, RigStep>>>> = {
  reset: { safe: boot, armed: boot, on: boot, fault: boot },
  hello: { safe: identify("safe"), armed: identify("armed"), on: identify("on"), fault: identify("fault") },
  "arm-fit": {
    safe: { to: "armed", says: "READY, STATE" },
    armed: refused("armed", "not-safe"),
    on: refused("on", "not-safe"),
    fault: refused("fault", "fault-present"),
  },
  "arm-unfit": {
    safe: { to: "safe", says: "REFUSED" },
    armed: refused("armed", "not-safe"),
    on: refused("on", "not-safe"),
    fault: { to: "fault", says: "REFUSED code=fault-present, or the hazard's" },
  },
  "fire-right": {
    safe: refused("safe", "not-armed"),
    armed: { to: "on", says: "OK, STATE, EVENT kind=onset" },
    on: refused("on", "not-armed"),
    fault: refused("fault", "not-armed"),
  },
  "fire-wrong": {
    safe: { to: "safe", says: "REFUSED code=not-armed, or token-expired" },
    armed: refused("armed", "wrong-token"),
    on: refused("on", "not-armed"),
    fault: refused("fault", "not-armed"),
  },
  stop: {
    safe: stay("safe", "OK"),
    armed: { to: "safe", says: "OK, STATE" },
    on: { to: "safe", says: "OK, EVENT kind=off why=host-stop, STATE" },
    fault: stay("fault", "OK"),
  },
  "clear-gone": {
    safe: stay("safe", "OK"),
    armed: stay("armed", "OK"),
    on: stay("on", "OK"),
    fault: { to: "safe", says: "OK, STATE" },
  },
  "clear-present": {
    safe: stay("safe", "OK"),
    armed: stay("armed", "OK"),
    on: stay("on", "OK"),
    fault: refused("fault", "fault-present"),
  },
  "token-expired": {
    safe: stay("safe"),
    armed: { to: "safe", says: "STATE" },
    on: stay("on"),
    fault: stay("fault"),
  },
  "beat-missing": {
    safe: stay("safe"),
    armed: { to: "safe", says: "STATE" },
    on: off("safe", "heartbeat-lost"),
    fault: stay("fault"),
  },
  opened: {
    safe: stay("safe"),
    armed: stay("armed"),
    on: { to: "safe", says: "EVENT kind=opening, EVENT kind=off why=opened, STATE" },
    fault: stay("fault"),
  },
  "longest-over": {
    safe: stay("safe"),
    armed: stay("armed"),
    on: off("safe", "longest-time"),
    fault: stay("fault"),
  },
  "hazard-begins": {
    safe: stay("safe", "STATE"),
    armed: { to: "fault", says: "STATE" },
    on: off("fault", "interlock, stop-button or over-temperature"),
    fault: stay("fault", "STATE"),
  },
  "hazard-ends": {
    safe: stay("safe", "STATE"),
    armed: stay("armed", "STATE"),
    on: stay("on", "STATE"),
    fault: stay("fault", "STATE"),
  },
  "source-fault": {
    safe: stay("safe", "STATE"),
    armed: { to: "fault", says: "STATE" },
    on: off("fault", "source-fault"),
    fault: stay("fault", "STATE"),
  },
};
