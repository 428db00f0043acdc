import type { HostEnd, RigResult } from "../core/signal/shot-signal.ts";
import type { SignalSink } from "./shot-recorder.ts";
import type { ShotState } from "./shot-transitions.ts";

/** Who follows a shot. An exception thrown here switches the current off and ends the shot. */
export interface ShotSink extends SignalSink {
  /** The state that begins now; what it does is done after this returns, so "inject" comes before any current. */
  state(state: ShotState): void;
}

/** How a shot ended. */
export interface ShotEnd {
  hostEnd: HostEnd;
  rigResult: RigResult | null;
  /** Air temperature beside the specimen when the rig was armed. */
  ambientCelsius: number | null;
  lineHealth: { damaged: number; askedAgain: number; missing: number };
  /** In words. */
  reason: string;
  /** Whether current was ever known to be on. */
  opened: boolean;
}
