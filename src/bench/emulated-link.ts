import { LineSplitter } from "../../firmware-protocol/codec/line-splitter.ts";
import type { BreakerProfile } from "../../firmware-protocol/emulated-rig/breaker-profile.ts";
import { EmulatedRig, type EmulatedRigOptions } from "../../firmware-protocol/emulated-rig/emulated-rig.ts";
import { type Link, LinkError } from "./link.ts";

const offCheckMs = 50;

/**
 * An emulated rig in this process, behind the same interface as a real one. Opening the link switches the rig on and plugs
 * its cable in. Closing waits until no current flows, which the rig sees to by itself, and switches the rig off.
 */
export class EmulatedLink implements Link {
  readonly address: string;
  readonly rig: EmulatedRig;
  /** The breaker that is clamped in at first. */
  readonly defaultBreaker: BreakerProfile;
  /** Rig seconds per wall second, as asked for. */
  readonly speed: number;
  #overrunsBefore = 0;
  #lines = new LineSplitter();
  #open = false;
  #switchingOff: Promise<void> | null = null;
  #hearLine: (line: Uint8Array) => void = () => {};
  #hearLoss: (reason: string) => void = () => {};

  /** @throws RangeError for a seed, speed or breaker that cannot be */
  constructor(options: EmulatedRigOptions, address = "emulated") {
    this.address = address;
    this.rig = new EmulatedRig(options);
    this.defaultBreaker = options.breaker;
    this.speed = options.speed;
    this.rig.onBytes((bytes) => {
      if (!this.#open) return;
      for (const line of this.#lines.push(bytes)) if (this.#open) this.#hearLine(line);
    });
    this.rig.onCablePulled(() => {
      if (!this.#open) return;
      void this.close();
      this.#hearLoss(`${this.address}: the cable was pulled`);
    });
  }

  get overruns(): number {
    return this.#overrunsBefore + this.#lines.overruns;
  }

  onLine(handler: (line: Uint8Array) => void): void {
    this.#hearLine = handler;
  }

  onLost(handler: (reason: string) => void): void {
    this.#hearLoss = handler;
  }

  async open(): Promise<void> {
    if (this.#open) throw new LinkError(this.address, "is open already");
    this.#overrunsBefore += this.#lines.overruns;
    this.#lines = new LineSplitter();
    this.#open = true;
    this.rig.plugCable();
    this.rig.start();
  }

  write(bytes: Uint8Array): void {
    if (!this.#open)
      throw new LinkError(this.address, "is not open; nothing was written and nothing is kept for later");
    this.rig.receive(bytes);
  }

  async close(): Promise<void> {
    this.#open = false;
    this.#switchingOff ??= this.#switchOffOnceSafe();
    await this.#switchingOff;
  }

  async #switchOffOnceSafe(): Promise<void> {
    while (!this.#open && this.rig.isOn) await new Promise((resolve) => setTimeout(resolve, offCheckMs));
    if (!this.#open) this.rig.stop();
    this.#switchingOff = null;
  }
}
