import { type FieldDescription, type Message, type MessageDescription, messages } from "../messages.ts";

/**
 * A field as the codec needs it. All rules have the same properties, whatever the type of the field, because the decoder
 * reads them for every field of every line and engines are several times slower at reading objects of mixed shapes.
 */
export type FieldRule = {
  name: string;
  about: string;
  type: FieldDescription["type"];
  /** Bounds of an integer. */
  min: number;
  max: number;
  /** Number of digits of a hex field. */
  digits: number;
  /** The words of a choice, with their bytes. */
  words: readonly { word: string; bytes: Uint8Array }[];
  /** The bytes of `name=`. */
  key: Uint8Array;
  /** What `presence` is where `whenField` does not hold `whenIs`: then it is "refused". */
  presence: Presence;
  whenField: string | null;
  whenIs: string;
};
export type Presence = "required" | "allowed" | "refused";

/** A message as the codec needs it. */
export type MessageRule = {
  verb: Message["verb"];
  verbBytes: Uint8Array;
  fields: readonly FieldRule[];
  values: { min: number; max: number } | null;
};

const asciiBytes = (text: string) => Uint8Array.from(text, (character) => character.charCodeAt(0));

function fieldRule(name: string, description: FieldDescription): FieldRule {
  const { type, about, optional, when } = description;
  const words = type === "choice" ? description.of : [];
  return {
    name,
    about,
    type,
    min: type === "integer" ? description.min : 0,
    max: type === "integer" ? description.max : 0,
    digits: type === "hex" ? description.digits : 0,
    words: words.map((word) => ({ word, bytes: asciiBytes(word) })),
    key: asciiBytes(`${name}=`),
    presence: when?.presence ?? (optional === true ? "allowed" : "required"),
    whenField: when?.field ?? null,
    whenIs: when?.is ?? "",
  };
}

const rules: readonly MessageRule[] = Object.entries(messages as Record<string, MessageDescription>).map(
  ([verb, description]) => ({
    verb: verb as Message["verb"],
    verbBytes: asciiBytes(verb),
    fields: Object.entries(description.fields).map(([name, field]) => fieldRule(name, field)),
    values: description.values ?? null,
  }),
);

const ruleOfVerb = new Map<string, MessageRule>(rules.map((rule) => [rule.verb, rule]));
const rulesByFirstByte: readonly (readonly MessageRule[])[] = Array.from({ length: 128 }, (_, byte) =>
  rules.filter((rule) => rule.verbBytes[0] === byte),
);

/** The rule of a verb given as a string, or undefined for a verb that the wire does not have. */
export function ruleNamed(verb: string): MessageRule | undefined {
  return ruleOfVerb.get(verb);
}

/** Whether `bytes` holds exactly `expected` at `start`. */
export function holdsAt(bytes: Uint8Array, start: number, expected: Uint8Array): boolean {
  for (let i = 0; i < expected.length; i += 1) if (bytes[start + i] !== expected[i]) return false;
  return true;
}

/** The rule of the verb that stands at `start` and ends at a space or at `end`, or undefined. */
export function ruleAt(bytes: Uint8Array, start: number, end: number): MessageRule | undefined {
  const candidates = rulesByFirstByte[bytes[start] as number] ?? [];
  for (const rule of candidates) {
    const stop = start + rule.verbBytes.length;
    if ((bytes[stop] === 0x20 || stop === end) && stop <= end && holdsAt(bytes, start, rule.verbBytes))
      return rule;
  }
  return undefined;
}

/** Whether a field may or must be present, given the fields before it. */
export function presenceOf(rule: FieldRule, before: Readonly<Record<string, unknown>>): Presence {
  return rule.whenField === null || before[rule.whenField] === rule.whenIs ? rule.presence : "refused";
}
