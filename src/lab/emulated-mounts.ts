import { breakerByName } from "../../firmware-protocol/emulated-rig/built-in-breakers.ts";
import type { MountedBreaker } from "../../firmware-protocol/emulated-rig/mounted-breaker.ts";
import type { EmulatedLink } from "../bench/emulated-link.ts";
import type { SpecimenRecord } from "../store/records.ts";
import { seedFromText } from "./seed-from-text.ts";

/** Rest that the emulated rig lets pass at once before each shot, so that every shot starts cold. */
export const emulatedRestSeconds = 8 * 3600;

/**
 * Clamps the breaker that plays a specimen into an emulated rig. Each specimen keeps its own breaker, with its warmth and
 * its wear, as long as the link lasts; a handle that was moved before is moved again on a breaker made anew.
 */
export class EmulatedMounts {
  readonly #link: EmulatedLink;
  readonly #seed: number;
  readonly #breakers = new Map<string, MountedBreaker>();

  /** @param seed of the link: another one gives other specimens of the same kinds */
  constructor(link: EmulatedLink, seed: number) {
    this.#link = link;
    this.#seed = seed;
  }

  mount(specimen: SpecimenRecord): void {
    const { rig, defaultBreaker } = this.#link;
    const { details, specimen: id } = specimen;
    const known = this.#breakers.get(id);
    const name = details.emulatedBreaker;
    const mounted = rig.mount(known ?? (name === undefined ? defaultBreaker : breakerByName(name)), {
      ratedAmps: details.ratedAmps,
      poles: details.poles,
      seed: seedFromText(`${this.#seed} ${details.label}`),
    });
    this.#breakers.set(id, mounted);
    if (known === undefined && specimen.operations > 0) rig.exerciseHandle(specimen.operations);
    rig.rest(emulatedRestSeconds);
  }

  /** Moves the handle of a specimen's breaker, where it is known. */
  moveHandle(specimen: SpecimenRecord, operations: number): void {
    if (!this.#breakers.has(specimen.specimen)) return;
    this.mount(specimen);
    this.#link.rig.exerciseHandle(operations);
  }
}
