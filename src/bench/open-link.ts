import { breakerByName, builtInBreakers } from "../../firmware-protocol/emulated-rig/built-in-breakers.ts";
import { EmulatedLink } from "./emulated-link.ts";
import type { Link } from "./link.ts";
import { parseLinkAddress } from "./parse-link-address.ts";
import { SerialLink } from "./serial-link.ts";
import { TcpLink } from "./tcp-link.ts";

/**
 * The link for an address, not yet opened; nothing has been touched.
 *
 * @throws RangeError for an address that cannot be read, or a breaker that the emulated rig does not have
 */
export function openLink(address: string): Link {
  const place = parseLinkAddress(address);
  switch (place.kind) {
    case "serial":
      return new SerialLink(place.path, place.baud);
    case "tcp":
      return new TcpLink(place.host, place.port);
    case "emulated": {
      const breaker = place.breaker === null ? builtInBreakers[0] : breakerByName(place.breaker);
      if (breaker === undefined) throw new Error("the emulated rig has no breakers");
      const { seed, speed, faults } = place;
      return new EmulatedLink({ seed, speed, breaker, lineFaults: faults }, address);
    }
  }
}
