import type { EmulatedRig } from "../../firmware-protocol/emulated-rig/emulated-rig.ts";
import { offerOnPty } from "./offer-on-pty.ts";
import { offerOnTcp } from "./offer-on-tcp.ts";

/** An emulated rig that others can reach. */
export interface OfferedRig {
  /** The address by which a host reaches it. */
  address: string;
  /** Ends the offer and switches the rig off. */
  close(): Promise<void>;
}

/** Where to offer: a TCP port on this machine only, 0 for any that is free, or the path of a pseudo-terminal to be made. */
export type OfferPlace = { tcp: number; host?: string } | { pty: string };

/**
 * Switches an emulated rig on and lets hosts reach it, one at a time. When its cable is pulled the host's line goes away; it
 * can then be reached again at the same address, as when a cable is plugged back in.
 *
 * @throws Error if the port is taken, or the pseudo-terminal cannot be made
 */
export async function offerEmulatedRig(rig: EmulatedRig, place: OfferPlace): Promise<OfferedRig> {
  const offered =
    "tcp" in place
      ? await offerOnTcp(rig, place.tcp, place.host ?? "127.0.0.1")
      : await offerOnPty(rig, place.pty);
  rig.start();
  return {
    address: offered.address,
    close: async () => {
      rig.stop();
      await offered.close();
    },
  };
}
