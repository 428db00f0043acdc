import type { BreakerProfile } from "../../firmware-protocol/emulated-rig/breaker-profile.ts";
import { breakerByName, builtInBreakers } from "../../firmware-protocol/emulated-rig/built-in-breakers.ts";
import { EmulatedRig } from "../../firmware-protocol/emulated-rig/emulated-rig.ts";
import { parseLineFaults } from "../../firmware-protocol/emulated-rig/line-faults.ts";
import { parseBreakerFile } from "../../firmware-protocol/emulated-rig/parse-breaker-file.ts";
import { type OfferedRig, type OfferPlace, offerEmulatedRig } from "../bench/offer-emulated-rig.ts";
import type { BreakerChoice } from "../contract/http.ts";
import { InputError } from "./input-error.ts";
import { readJsonFile } from "./read-json-file.ts";

/** Breakers that the emulated rig can play, healthy and faulty. */
export function breakerChoices(): BreakerChoice[] {
  return builtInBreakers.map(({ name, about, healthy }) => ({ name, about, healthy }));
}

/** How an emulated rig on its own is set up; `breaker` is the name of a built-in one or a path that ends in `.json`. */
export interface OfferedRigSettings {
  place: OfferPlace;
  speed: number;
  seed: number;
  breaker: string;
  faults: string;
}

/**
 * Offers an emulated rig behind a TCP port or a pseudo-terminal.
 *
 * @throws InputError for a breaker or faults that cannot be; Error where the place cannot be had
 */
export async function offerRig(settings: OfferedRigSettings): Promise<OfferedRig & { breaker: string }> {
  const rig = asInput(() => {
    const breaker = breakerNamed(settings.breaker);
    return {
      breaker: breaker.name,
      rig: new EmulatedRig({
        seed: settings.seed,
        speed: settings.speed,
        breaker,
        lineFaults: parseLineFaults(settings.faults),
      }),
    };
  });
  const offered = await offerEmulatedRig(rig.rig, settings.place);
  return { ...offered, breaker: rig.breaker };
}

function breakerNamed(nameOrFile: string): BreakerProfile {
  if (!nameOrFile.endsWith(".json")) return breakerByName(nameOrFile);
  const file = readJsonFile(nameOrFile);
  try {
    return parseBreakerFile(file);
  } catch (error) {
    throw new InputError(`${nameOrFile}: ${error instanceof Error ? error.message : String(error)}`);
  }
}

function asInput<T>(make: () => T): T {
  try {
    return make();
  } catch (error) {
    if (error instanceof RangeError) throw new InputError(error.message);
    throw error;
  }
}
