import type { OffReason } from "../messages.ts";
import { sourceLimits } from "./current-source.ts";

/** What must not be present while current flows, and keeps the rig from being armed. */
export type Hazard = Extract<OffReason, "interlock" | "over-temperature" | "stop-button">;

/** The contacts and the thermostat that the rig watches. */
export class RigHazards {
  interlockOpen = false;
  buttonPressed = false;
  #overheated = false;

  /** The gravest hazard that is present, or null. */
  get present(): Hazard | null {
    if (this.buttonPressed) return "stop-button";
    if (this.interlockOpen) return "interlock";
    return this.#overheated ? "over-temperature" : null;
  }

  /** Takes the source's temperature; once too hot, it stays so until well cooled. @returns what that changed, if anything */
  feel(sourceCelsius: number): "begins" | "ends" | null {
    const before = this.#overheated;
    const limit = before ? sourceLimits.coolEnoughCelsius : sourceLimits.hottestCelsius;
    this.#overheated = sourceCelsius > limit;
    if (this.#overheated === before) return null;
    return this.#overheated ? "begins" : "ends";
  }
}
