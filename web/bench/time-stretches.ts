import type { Requirement } from "../../src/core/limits/limit-set.ts";
import { formatSeconds } from "../../src/core/units/format-seconds.ts";

/** A stretch of a test's time, and what a trip in it would mean. */
export interface TimeStretch {
  from: number;
  to: number;
  meaning: "too soon" | "in time" | "too late" | "test may end";
}

/** The time from the beginning of the current to the end of the test, cut at the limits. Empty stretches are left out. */
export function timeStretches(requirement: Requirement, endAtSeconds: number): TimeStretch[] {
  const cuts: TimeStretch[] = [];
  switch (requirement.kind) {
    case "trip-within":
      cuts.push({ from: 0, to: requirement.maxSeconds, meaning: "in time" });
      cuts.push({ from: requirement.maxSeconds, to: endAtSeconds, meaning: "too late" });
      break;
    case "trip-between":
      cuts.push({ from: 0, to: requirement.minSeconds, meaning: "too soon" });
      cuts.push({ from: requirement.minSeconds, to: requirement.maxSeconds, meaning: "in time" });
      cuts.push({ from: requirement.maxSeconds, to: endAtSeconds, meaning: "too late" });
      break;
    case "hold-for":
      cuts.push({ from: 0, to: requirement.seconds, meaning: "too soon" });
      cuts.push({ from: requirement.seconds, to: endAtSeconds, meaning: "test may end" });
      break;
  }
  return cuts.filter((cut) => cut.to > cut.from);
}

/** The times that decide, with a word for each, as lines for a chart. */
export function limitLines(requirement: Requirement): { seconds: number; label: string; style: "limit" }[] {
  const line = (seconds: number, words: string) => ({
    seconds,
    label: `${words} ${formatSeconds(seconds)}`,
    style: "limit" as const,
  });
  switch (requirement.kind) {
    case "trip-within":
      return [line(requirement.maxSeconds, "limit")];
    case "trip-between":
      return [line(requirement.minSeconds, "not before"), line(requirement.maxSeconds, "limit")];
    case "hold-for":
      return [line(requirement.seconds, "must hold for")];
  }
}
