import { type messages, protocolVersion, type RigMessage } from "../messages.ts";
import { sourceLimits } from "./current-source.ts";
import { keptLineCount } from "./kept-lines.ts";

/** Without a BEAT for so long, the rig switches the current off and disarms. */
export const beatMs = 1000;
/** A token of READY is valid for so long. */
export const tokenMs = 5000;
/** RESULT is said again so often until DONE. */
export const resultRepeatMs = 1000;
/** Longest on-time that can be armed. */
export const longestMs = 14_400_000;
/** Distance of raw samples, microseconds: 10 kHz. */
export const rawStepUs = 100;

type Item = (typeof messages.IDENT.fields.item.of)[number];

/** What the emulated rig says of itself, item by item, `end` last. */
export function identity(seed: number, lineHz: number): Extract<RigMessage, { verb: "IDENT" }>[] {
  const items: readonly [Item, string][] = [
    ["protocol", String(protocolVersion)],
    ["model", "Emulated-Rig"],
    ["serial", serialNumber(seed)],
    ["firmware", "emulated-1.0"],
    ["lowest-ma", String(sourceLimits.lowestMilliamps)],
    ["highest-ma", String(sourceLimits.highestMilliamps)],
    ["rms-windows", "cycle,half-cycle"],
    ["line-hz", String(lineHz)],
    ["raw-hz", String(1_000_000 / rawStepUs)],
    ["timer-ns", "1000"],
    ["tick-hz", "1000000"],
    ["channels", "1"],
    ["beat-ms", String(beatMs)],
    ["token-ms", String(tokenMs)],
    ["longest-ms", String(longestMs)],
    ["kept-lines", String(keptLineCount)],
    ["emulated", "yes"],
  ];
  return [...items, ["end", String(items.length)] as const].map(([item, value]) => ({
    verb: "IDENT",
    item,
    value,
  }));
}

/** The serial number of the rig of a seed. */
export function serialNumber(seed: number): string {
  return `EMU-${String(seed).padStart(6, "0")}`;
}
