/** Wall-clock times in milliseconds that bound the waiting of a shot. */
export interface ShotTiming {
  /** The line is quiet when no line of the shot came for so long. */
  quietMs: number;
  /** After the current is off, waiting for the result ends when nothing of the shot came for so long. */
  settleIdleMs: number;
  /** And in any case after this. */
  settleMostMs: number;
  /** Arming is tried again after so long while the rig still holds the result of a shot before. */
  pendingMs: number;
  pendingTries: number;
  /** A real rig that keeps current on for so much longer than its own maximum is told to stop. */
  overrunMs: number;
}

/** What suits every rig that keeps to the wire. */
export const usualShotTiming: ShotTiming = {
  quietMs: 100,
  settleIdleMs: 3_000,
  settleMostMs: 180_000,
  pendingMs: 400,
  pendingTries: 5,
  overrunMs: 5_000,
};
