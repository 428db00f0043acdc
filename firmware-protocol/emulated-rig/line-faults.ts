/**
 * What is wrong with the line between host and rig. Shares are probabilities per line. Times are seconds of the rig's
 * clock since the onset of current; each of them happens once, in the first shot that lasts so long.
 */
export interface LineFaults {
  /** Share of lines that vanish. */
  drop: number;
  /** Share of lines with one to three bits flipped. */
  damage: number;
  /** Share of lines that arrive twice. */
  repeat: number;
  /** Share of lines that arrive after the line that was sent after them. */
  reorder: number;
  /** Share of lines that lose their end, LF included. */
  truncate: number;
  /** Nothing passes from here on, for `silenceFor` seconds. */
  silenceAt: number | null;
  silenceFor: number;
  /** The cable is pulled; it stays out until it is plugged in again. */
  pullAt: number | null;
  /** The rig loses its supply for a moment and starts anew. */
  resetAt: number | null;
  /** Which way of the line the shares apply to. */
  ways: "both" | "from-rig" | "to-rig";
}

/** A line without fault. */
export const soundLine: LineFaults = {
  drop: 0,
  damage: 0,
  repeat: 0,
  reorder: 0,
  truncate: 0,
  silenceAt: null,
  silenceFor: 1,
  pullAt: null,
  resetAt: null,
  ways: "both",
};

const shares = {
  drop: "drop",
  damage: "damage",
  repeat: "repeat",
  reorder: "reorder",
  truncate: "truncate",
} as const;
const times = {
  "silence-at": "silenceAt",
  "silence-for": "silenceFor",
  "pull-at": "pullAt",
  "reset-at": "resetAt",
} as const;
const accepted = `${Object.keys(shares).join(", ")} (each 0 to 1), ${Object.keys(times).join(", ")} (seconds from 0 up), ways (both, from-rig, to-rig)`;

/**
 * Reads faults from a text such as `drop=0.02,damage=0.01,pull-at=3`. An empty text is a sound line.
 *
 * @throws RangeError that names the part, what was found and what is accepted
 */
export function parseLineFaults(text: string): LineFaults {
  const faults: LineFaults = { ...soundLine };
  const seen = new Set<string>();
  for (const part of text.split(",").map((one) => one.trim())) {
    if (part === "") continue;
    const [name = "", value = "", ...more] = part.split("=");
    if (more.length > 0 || value === "")
      throw new RangeError(`line faults: found "${part}"; accepted: name=value with ${accepted}`);
    if (seen.has(name)) throw new RangeError(`line faults: ${name} is given twice`);
    seen.add(name);
    if (name === "ways") faults.ways = parseWays(value);
    else if (Object.hasOwn(shares, name))
      faults[shares[name as keyof typeof shares]] = parseNumber(name, value, 1);
    else if (Object.hasOwn(times, name))
      faults[times[name as keyof typeof times]] = parseNumber(name, value, Number.MAX_VALUE);
    else throw new RangeError(`line faults: unknown name "${name}"; accepted: ${accepted}`);
  }
  return faults;
}

function parseNumber(name: string, value: string, max: number): number {
  const number = /^[0-9]*\.?[0-9]+$/.test(value) ? Number(value) : Number.NaN;
  if (number >= 0 && number <= max) return number;
  const range = max === 1 ? "a number from 0 to 1" : "a number of seconds from 0 up";
  throw new RangeError(`line faults: ${name} is "${value}"; accepted: ${range}`);
}

function parseWays(value: string): LineFaults["ways"] {
  if (value === "both" || value === "from-rig" || value === "to-rig") return value;
  throw new RangeError(`line faults: ways is "${value}"; accepted: both, from-rig, to-rig`);
}
