import { formatSeconds } from "../units/format-seconds.ts";
import { secondsText } from "./_words.ts";
import type { Requirement } from "./limit-set.ts";

/** A limit for a reader: exact in seconds, from ten minutes on with hours and minutes beside it. */
export function limitWords(seconds: number): string {
  return seconds < 600 ? secondsText(seconds) : `${secondsText(seconds)} (${formatSeconds(seconds)})`;
}

/** What a specimen must do, to stand after "must": `trip within 120 s`, `hold for 3600 s (1 h)`. */
export function requirementWords(requirement: Requirement): string {
  switch (requirement.kind) {
    case "trip-within":
      return `trip within ${limitWords(requirement.maxSeconds)}`;
    case "trip-between":
      return `trip between ${limitWords(requirement.minSeconds)} and ${limitWords(requirement.maxSeconds)}`;
    case "hold-for":
      return `hold for ${limitWords(requirement.seconds)}`;
  }
}
