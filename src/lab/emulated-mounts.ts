import { breakerByName } from "../../firmware-protocol/emulated-rig/breaker-profiles.ts";
import type { MountedBreaker } from "../../firmware-protocol/emulated-rig/emulated-rig.ts";
import type { EmulatedLink } from "../bench/emulated-link.ts";
import type { StoredSpecimen } from "../store/projections.ts";
import { seedFromText } from "./seed-from-text.ts";

/** Rest that the emulated rig lets pass at once before each shot, so that every shot starts cold. */
export const emulatedRestSeconds = 8 * 3600;

/**
 * Clamps the breaker that plays a specimen into an emulated rig. Each specimen keeps its own breaker, with its warmth and
 * its wear, as long as the link lasts; a handle that was moved before is moved again on a breaker made anew.
 */
export class EmulatedMounts {
  readonly #link: EmulatedLink;
  readonly #breakers = new Map<string, MountedBreaker>();

  constructor(link: EmulatedLink) {
    this.#link = link;
  }

  mount(specimen: StoredSpecimen): void {
    const { rig, defaultBreaker } = this.#link;
    const { details, id } = specimen;
    const known = this.#breakers.get(id);
    const name = details.emulatedBreaker;
    const mounted = rig.mount(known ?? (name === undefined ? defaultBreaker : breakerByName(name)), {
      ratedAmps: details.ratedAmps,
      poles: details.poles,
      seed: seedFromText(`${details.label} ${details.ratedAmps}`),
    });
    this.#breakers.set(id, mounted);
    if (known === undefined && specimen.handleOperations > 0) rig.exerciseHandle(specimen.handleOperations);
    rig.rest(emulatedRestSeconds);
  }

  /** Moves the handle of a specimen's breaker, where it is known. */
  moveHandle(specimen: StoredSpecimen, operations: number): void {
    if (!this.#breakers.has(specimen.id)) return;
    this.mount(specimen);
    this.#link.rig.exerciseHandle(operations);
  }
}
