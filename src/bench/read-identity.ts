import { protocolVersion, type RigMessage } from "../../firmware-protocol/messages.ts";
import type { RigIdentity } from "../contract/ledger-entries.ts";
import { RigUnsuitable } from "./rig-error.ts";

/** One item of a rig's identification. */
export type IdentityItem = Extract<RigMessage, { verb: "IDENT" }>["item"];

/** What a rig said of itself, and the figures that steer the talk with it. */
export interface RigDescription {
  identity: RigIdentity;
  /** Without a heartbeat for this long the rig switches the current off. */
  beatMs: number;
  /** Lines that the rig keeps for being asked again. */
  keptLines: number;
}

/**
 * Reads the items of an identification that is complete.
 *
 * @throws RigUnsuitable for another protocol version, and for an item that is missing or is not what it has to be
 */
export function readIdentity(items: ReadonlyMap<IdentityItem, string>): RigDescription {
  const text = (item: IdentityItem): string => {
    const value = items.get(item);
    if (value === undefined) throw new RigUnsuitable(`the rig's identification lacks "${item}"`);
    return value;
  };
  const wholeNumber = (item: IdentityItem, lowest: number): number => {
    const value = text(item);
    const parsed = /^\d{1,15}$/.test(value) ? Number(value) : Number.NaN;
    if (!(parsed >= lowest))
      throw new RigUnsuitable(
        `the rig's identification has ${item}=${JSON.stringify(value)}; expected a whole number of at least ${lowest}`,
      );
    return parsed;
  };
  const flag = (item: IdentityItem): boolean => {
    const value = text(item);
    if (["yes", "true", "1"].includes(value)) return true;
    if (["no", "false", "0"].includes(value)) return false;
    throw new RigUnsuitable(
      `the rig's identification has ${item}=${JSON.stringify(value)}; expected yes or no`,
    );
  };

  const protocol = wholeNumber("protocol", 1);
  if (protocol !== protocolVersion)
    throw new RigUnsuitable(
      `the rig speaks protocol version ${protocol}; this program accepts version ${protocolVersion} only`,
    );
  const identity: RigIdentity = {
    protocol,
    model: text("model"),
    serial: text("serial"),
    firmware: text("firmware"),
    lowestAmps: wholeNumber("lowest-ma", 1) / 1000,
    highestAmps: wholeNumber("highest-ma", 1) / 1000,
    timerSeconds: wholeNumber("timer-ns", 1) / 1e9,
    tickHz: wholeNumber("tick-hz", 1),
    lineHz: wholeNumber("line-hz", 1),
    rawHz: wholeNumber("raw-hz", 0),
    longestSeconds: wholeNumber("longest-ms", 1) / 1000,
    emulated: flag("emulated"),
  };
  if (identity.lowestAmps > identity.highestAmps)
    throw new RigUnsuitable(
      `the rig's identification has a lowest current of ${identity.lowestAmps} A above its highest of ${identity.highestAmps} A`,
    );
  return {
    identity,
    beatMs: wholeNumber("beat-ms", 1),
    keptLines: wholeNumber("kept-lines", 0),
  };
}
