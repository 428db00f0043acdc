import type { RigMessage } from "../../firmware-protocol/messages.ts";
import type { LineHealth } from "./line-health.ts";

type MessageOf<V extends RigMessage["verb"]> = Extract<RigMessage, { verb: V }>;
/** What a rig says of its own state. */
export type RigState = MessageOf<"STATE">;

/** What a session tells. */
export interface SessionEvents {
  /** At once, never held back for an earlier line, and never older than the one before. */
  state: RigState;
  /** These four in the order in which the rig sent them, each once, of whatever shot they speak. */
  sample: MessageOf<"SAMPLE">;
  event: MessageOf<"EVENT">;
  raw: MessageOf<"RAW">;
  result: MessageOf<"RESULT">;
  /** Why the rig can no longer be heard or trusted; once for each connection, and nothing comes after it. */
  lost: string;
  /** At every heartbeat. */
  health: LineHealth;
}

/** One shot's hold on a session. */
export interface ShotReservation {
  /** From here on the result of this shot is the shot's own to acknowledge; all others are acknowledged by the session. */
  expectResult(): void;
  /** Gives the session back. */
  release(): void;
}
