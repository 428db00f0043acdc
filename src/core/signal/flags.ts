import type { ReadingFlag } from "./reading.ts";

/** What a flag says to a reader, and whether it leaves a shot without verdict. */
export interface FlagMeaning {
  words: string;
  excludes: boolean;
  /** Why it excludes, or why it does not. */
  why: string;
}

/** Every flag of a reading, in the order in which a reading lists them. */
export const flagMeanings: Readonly<Record<ReadingFlag, FlagMeaning>> = {
  "no-onset": {
    words: "The beginning of the current is not in the recording.",
    excludes: true,
    why: "A time without a beginning is only a lower bound.",
  },
  "onset-assumed": {
    words: "The table begins with current already flowing; its first row is taken as the onset.",
    excludes: false,
    why: "Recorders started by the current itself write such tables; whoever made the table must confirm it.",
  },
  "never-reached-target": {
    words:
      "The current never came within 10 % of the target, or in a shot of less than three cycles within half of it.",
    excludes: true,
    why: "The specimen was not put to this test.",
  },
  "regulation-gross": {
    words: "The effective current was more than 10 % away from the target.",
    excludes: true,
    why: "It was a test at another multiple.",
  },
  regulation: {
    words: "The current left the stated tolerance around the target.",
    excludes: false,
    why: "The effective current is measured and its effect on the time is in the uncertainty; the time at target is given beside.",
  },
  "clock-step": {
    words: "The rig's clock stepped: its time ran back, or jumped although no sample is missing.",
    excludes: true,
    why: "No time measured over a step can be relied on.",
  },
  gap: {
    words: "Samples are missing while current flowed, at its onset or at its opening.",
    excludes: false,
    why: "An onset or opening inside a gap is an interval, and the interval is judged.",
  },
  "not-cold": {
    words: "The specimen was still warm from an earlier shot.",
    excludes: true,
    why: "A warm specimen trips earlier than the cold one that the test asks for.",
  },
  "ambient-out-of-range": {
    words: "The ambient temperature was outside the range of the test.",
    excludes: false,
    why: "A deviation from the method that stands beside the verdict.",
  },
  "ambient-unknown": {
    words: "The ambient temperature was not recorded although the test has a range for it.",
    excludes: false,
    why: "A deviation from the method that stands beside the verdict.",
  },
  "rig-disagrees": {
    words: "The rig's own result or events do not agree with the samples.",
    excludes: false,
    why: "The samples are the original observation and decide; the difference must be looked into.",
  },
  "calibration-past-due": {
    words: "The calibration of the rig or of an instrument was past due.",
    excludes: false,
    why: "Whether it blocks a shot is the lab's own setting, applied before the shot.",
  },
};

/** Every flag, in the order in which a reading lists them. */
export const readingFlags = Object.keys(flagMeanings) as ReadingFlag[];

/** The flags among `flags` that leave a shot without verdict. */
export function excludingFlags(flags: readonly ReadingFlag[]): ReadingFlag[] {
  return readingFlags.filter((flag) => flags.includes(flag) && flagMeanings[flag].excludes);
}

/** `flags` without repeats, in the order of `flagMeanings`. */
export function orderedFlags(flags: Iterable<ReadingFlag>): ReadingFlag[] {
  const present = new Set(flags);
  return readingFlags.filter((flag) => present.has(flag));
}
