import { closeShot } from "./close-shot.ts";
import type { Lab } from "./lab.ts";
import { knownShot } from "./shot-view.ts";

/**
 * Closes every shot that a crash cut off, as interrupted, with all samples that reached the disk. Called on each start.
 *
 * @returns identifiers of the shots that were closed
 */
export function recoverShots(lab: Lab): string[] {
  return lab.store.records.openShots().map(({ shot }) => {
    closeShot(lab, knownShot(lab, shot).opened.body, {
      hostEnd: "host-died",
      rigResult: null,
      ambientCelsius: null,
      lineHealth: null,
    });
    return shot;
  });
}
