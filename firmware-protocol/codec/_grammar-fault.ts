import { shown } from "./_ascii.ts";

const accepted = {
  sequence: [/^[0-9A-F]{4}$/, "four digits 0-9 A-F"],
  verb: [/^[A-Z]{1,16}$/, "a verb of 1 to 16 letters A-Z"],
  field: [/^[a-z][a-z0-9]*=(?:[!-$&-)+-<>-~]|%[0-9A-F]{2})*$/, "name=value, or an integer"],
  value: [/^-?[0-9]+$/, "an integer, since integers have begun"],
} as const;

/**
 * Where the first `end` bytes of a line leave the grammar of SPECIFICATION.md section 4, in words, or null.
 *
 * Used only on lines already refused, to tell a line that no sender may build from one whose content is wrong.
 */
export function grammarFault(line: Uint8Array, end: number): string | null {
  let kind: keyof typeof accepted = "sequence";
  let start = 0;
  while (start <= end) {
    let stop = start;
    while (stop < end && line[stop] !== 0x20) stop += 1;
    const token = String.fromCharCode(...line.subarray(start, stop));
    if (kind === "field" && accepted.value[0].test(token)) kind = "value";
    const [pattern, words] = accepted[kind];
    if (!pattern.test(token)) return `byte ${start}: found ${shown(line, start, stop)}, accepted: ${words}`;
    if (kind === "sequence") kind = "verb";
    else if (kind === "verb") kind = "field";
    start = stop + 1;
  }
  return kind === "verb" ? `byte ${end}: the line ends, accepted: a verb` : null;
}
