import { type LineFaults, parseLineFaults } from "../../firmware-protocol/emulated-rig/line-faults.ts";

/** Where a rig is reached, as written by a user: what kind of line, and what that kind needs. */
export type LinkAddress =
  | { kind: "serial"; path: string; baud: number }
  | { kind: "tcp"; host: string; port: number }
  | { kind: "emulated"; breaker: string | null; speed: number; seed: number; faults: LineFaults };

/** What an address may look like, for every message that refuses one. */
export const acceptedAddresses =
  "serial:PATH[?baud=N], tcp:HOST:PORT or emulated[?breaker=NAME&speed=N&seed=N&faults=NAME=N,NAME=N]";

const fastestSpeed = 1_000_000;
const usualBaud = 115_200;

/**
 * Reads a link address.
 *
 * @throws RangeError saying which part was found wrong and what is accepted
 */
export function parseLinkAddress(text: string): LinkAddress {
  const refuse = (what: string): never => {
    throw new RangeError(`link address ${JSON.stringify(text)}: ${what}; accepted: ${acceptedAddresses}`);
  };
  const mark = text.indexOf("?");
  const place = mark === -1 ? text : text.slice(0, mark);
  const options = new Map<string, string>();
  if (mark !== -1) {
    for (const [name, value] of new URLSearchParams(text.slice(mark + 1))) {
      if (options.has(name)) refuse(`the option "${name}" is given twice`);
      options.set(name, value);
    }
  }
  const accept = (...names: string[]): void => {
    for (const name of options.keys())
      if (!names.includes(name)) {
        const found = `found the option "${name}"`;
        refuse(
          names.length === 0
            ? `${found}, but no option is accepted here`
            : `${found}, expected ${names.join(", ")}`,
        );
      }
  };
  const wholeNumber = (name: string, usual: number, lowest: number, highest: number): number => {
    const value = options.get(name);
    if (value === undefined) return usual;
    const parsed = /^\d{1,12}$/.test(value) ? Number(value) : Number.NaN;
    if (!(parsed >= lowest && parsed <= highest))
      refuse(`found ${name}=${value}, expected a whole number from ${lowest} to ${highest}`);
    return parsed;
  };

  if (place === "emulated") {
    accept("breaker", "speed", "seed", "faults");
    const speedText = options.get("speed") ?? "1";
    const speed = /^\d{1,7}(\.\d{1,6})?$/.test(speedText) ? Number(speedText) : Number.NaN;
    if (!(speed >= 0.01 && speed <= fastestSpeed))
      refuse(`found speed=${speedText}, expected a number from 0.01 to ${fastestSpeed} (times real time)`);
    const breaker = options.get("breaker") ?? null;
    if (breaker === "") refuse("found an empty breaker name");
    const seed = wholeNumber("seed", 1, 0, 4_294_967_295);
    try {
      return { kind: "emulated", breaker, speed, seed, faults: parseLineFaults(options.get("faults") ?? "") };
    } catch (error) {
      return refuse(error instanceof Error ? error.message : String(error));
    }
  }
  if (place.startsWith("serial:")) {
    accept("baud");
    const path = place.slice("serial:".length);
    if (path === "") refuse("found no path after serial:");
    return { kind: "serial", path, baud: wholeNumber("baud", usualBaud, 50, 12_000_000) };
  }
  if (place.startsWith("tcp:")) {
    accept();
    const parts = /^(?:\[([^\]]+)\]|([^:[\]]+)):(\d{1,5})$/.exec(place.slice("tcp:".length));
    const host = parts?.[1] ?? parts?.[2];
    const port = Number(parts?.[3] ?? 0);
    if (host === undefined || port < 1 || port > 65_535)
      return refuse("expected a host and a port from 1 to 65535 after tcp:");
    return { kind: "tcp", host, port };
  }
  return refuse("found neither serial:, tcp: nor emulated");
}
