/** How well a line to a rig carries, counted since the session was made. All are numbers of lines. */
export interface LineHealth {
  /** Lines that could be read and were new. */
  good: number;
  /** Lines that failed their check, or said what the wire does not have. */
  damaged: number;
  /** Lines asked for again, each request counted. */
  askedAgain: number;
  /** Lines that came after having been asked for. */
  recovered: number;
  /** Lines given up: asked for as often as allowed, or no longer kept by the rig. */
  missing: number;
  /** Lines that came more than once, or too late. */
  duplicates: number;
  /** Lines cut out because they were too long. */
  overruns: number;
  /** What was wrong with the newest line that was not good, in words; null if all were. */
  lastProblem: string | null;
}

/** Health of a line on which nothing has happened yet. */
export function freshHealth(): LineHealth {
  return {
    good: 0,
    damaged: 0,
    askedAgain: 0,
    recovered: 0,
    missing: 0,
    duplicates: 0,
    overruns: 0,
    lastProblem: null,
  };
}
