import type { EntryBodies } from "../contract/ledger-entries.ts";
import { deriveShot, type ShotEnding } from "./derive-shot.ts";
import { originOf } from "./entry-origin.ts";
import type { Lab } from "./lab.ts";

/** Closes a shot: derives reading and verdict from the stored samples and writes them to the ledger with their hash. */
export function closeShot(
  lab: Lab,
  opened: EntryBodies["shot-opened"],
  ending: ShotEnding & { lineHealth: EntryBodies["shot-closed"]["lineHealth"] },
): EntryBodies["shot-closed"] {
  const signal = lab.store.blocks.readSignal(opened.shot);
  const { reading, verdict } = deriveShot(opened, ending, signal);
  const body: EntryBodies["shot-closed"] = {
    shot: opened.shot,
    hostEnd: ending.hostEnd,
    ...lab.store.blocks.facts(opened.shot),
    rigResult: ending.rigResult,
    ambientCelsius: ending.ambientCelsius,
    lineHealth: ending.lineHealth,
    reading,
    verdict,
  };
  lab.store.ledger.append("shot-closed", body, originOf(lab));
  return body;
}
