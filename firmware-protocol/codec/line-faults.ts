/**
 * Why a line is refused: the first of these that applies to it.
 *
 * The first four say that the line was damaged on its way, the last three that its sender built it wrongly or speaks
 * another wire.
 */
export const lineFaults = [
  "too-long",
  "not-ascii",
  "no-check",
  "frame-crc",
  "grammar",
  "unknown-message",
  "bad-field",
] as const;
export type LineFault = (typeof lineFaults)[number];
