/**
 * Consecutive true RMS samples without a gap. Value i belongs to the window that ends at `firstEndUs + i * stepUs` and is
 * `stepUs` long; times are integer microseconds of the rig's own clock.
 */
export interface SampleRun {
  firstEndUs: number;
  stepUs: number;
  milliamps: Int32Array;
}

/** Why the source of current was switched off; `link-lost` and `host-died` are told by the host, the others by the rig. */
export type OffReason =
  | "opened"
  | "host-stop"
  | "longest-time"
  | "heartbeat-lost"
  | "interlock"
  | "over-temperature"
  | "stop-button"
  | "source-fault"
  | "link-lost"
  | "host-died";

/** What the rig reported during a shot, on its own clock. */
export type ShotEvent =
  | { atUs: number; kind: "onset" }
  | { atUs: number; kind: "opening"; pole?: number }
  | { atUs: number; kind: "off"; why: OffReason };

/** Instantaneous current around the onset or the opening. */
export interface RawWindow {
  window: "onset" | "opening";
  firstAtUs: number;
  stepNs: number;
  milliamps: Int32Array;
}

/** What the firmware measured itself. */
export interface RigResult {
  outcome: "opened" | "not-opened";
  why: OffReason;
  onTimeUs: number;
  rmsMilliamps: number;
  samples: number;
}

/** Why the host ended the shot, where it did: `limit` is the programme's own end, the limit plus its margin. */
export type HostEnd = "limit" | "operator" | "interlock" | "link-lost" | "host-died" | "rig-ended";

/**
 * All that a shot left behind, and all that a reading may use. `runs` are in order of time and do not overlap; what lies
 * between two of them is missing.
 */
export interface ShotSignal {
  runs: readonly SampleRun[];
  events: readonly ShotEvent[];
  raw: readonly RawWindow[];
  rigResult: RigResult | null;
  hostEnd: HostEnd;
}
