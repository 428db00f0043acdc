/** Wall-clock times, in milliseconds, and counts that steer the talk with a rig. */
export interface SessionTiming {
  /** Time from one heartbeat to the next. */
  beatMs: number;
  /** The line counts as lost when so many heartbeats in a row went out and nothing at all was heard. */
  silentBeats: number;
  /** A command unanswered for this long is sent again. */
  answerMs: number;
  /** So often after the first time. */
  repeats: number;
  /** A missing line still missing after this long is asked for again. */
  askAgainMs: number;
  /** A line is asked for so often before it is given up. */
  askTries: number;
}

/** What suits a serial line of 115200 baud or faster. */
export const usualTiming: SessionTiming = {
  beatMs: 200,
  silentBeats: 5,
  answerMs: 300,
  repeats: 5,
  askAgainMs: 250,
  askTries: 6,
};
