/**
 * Every message of the wire, described once.
 *
 * The codec, the types, `messages.json` and the tables of SPECIFICATION.md come from this description; a test compares
 * the generated files with it. Integers are decimal. "text" is printable ASCII without space, `=`, `*` and `%`; every
 * other byte of its UTF-8 form is written as `%HH`. A message with `values` ends in a plain list of at least one integer.
 */

/**
 * A field that can be absent. With `when`, it has a place only if the named choice field, which comes before it, holds
 * the named word: there it may be present ("allowed") or must be ("required"); everywhere else it is refused.
 */
type Optional = { optional?: true; when?: { field: string; is: string; presence: "allowed" | "required" } };
type IntegerField = Optional & { type: "integer"; min: number; max: number; unit: string; about: string };
type ChoiceField = Optional & { type: "choice"; of: readonly string[]; about: string };
type HexField = Optional & { type: "hex"; digits: number; about: string };
type TextField = Optional & { type: "text"; about: string };
/** One named field of a message. */
export type FieldDescription = IntegerField | ChoiceField | HexField | TextField;
/** One message: who says it, its named fields in the order in which they are written, and its list of values, if any. */
export type MessageDescription = {
  from: "host" | "rig";
  about: string;
  fields: Readonly<Record<string, FieldDescription>>;
  values?: { min: number; max: number; unit: string; about: string };
};

const largestMicroseconds = 9_007_199_254_740_991;
const loading = {
  type: "choice",
  of: ["pole-1", "pole-2", "pole-3", "all"],
  about: "which poles carry the current",
} as const;
const shot = {
  type: "integer",
  min: 1,
  max: 4_294_967_295,
  unit: "1",
  about: "number of the shot, given by the host",
} as const;
const answered = {
  type: "hex",
  digits: 4,
  about: "sequence number of the host's line that is answered",
} as const;
const at = {
  type: "integer",
  min: 0,
  max: largestMicroseconds,
  unit: "us",
  about: "time on the rig's own clock",
} as const;
const offReasons = [
  "opened",
  "host-stop",
  "longest-time",
  "heartbeat-lost",
  "interlock",
  "over-temperature",
  "stop-button",
  "source-fault",
] as const;

/** Version of the wire that this description defines. */
export const protocolVersion = 1;
/** Longest line in bytes, its LF included. */
export const longestLineBytes = 128;

export const messages = {
  HELLO: {
    from: "host",
    about: "asks the rig to identify itself; answered by IDENT lines",
    fields: {
      version: { type: "integer", min: 1, max: 99, unit: "1", about: "protocol version the host speaks" },
    },
  },
  BEAT: { from: "host", about: "heartbeat; answered by STATE", fields: {} },
  ARM: {
    from: "host",
    about: "first step of arming; answered by READY or REFUSED",
    fields: {
      shot,
      amps: { type: "integer", min: 1, max: 200_000_000, unit: "mA", about: "true RMS current to hold" },
      rated: {
        type: "integer",
        min: 1,
        max: 10_000_000,
        unit: "mA",
        about: "rated current of the specimen, for the rig's own checks and display",
      },
      longest: {
        type: "integer",
        min: 1,
        max: 14_400_000,
        unit: "ms",
        about: "hard maximum on-time; the rig ends the shot at it by itself",
      },
      loading,
      every: { type: "choice", of: ["cycle", "half-cycle"], about: "window of each true RMS sample" },
      raw: {
        type: "integer",
        min: 0,
        max: 4096,
        unit: "1",
        about: "raw samples wanted around the onset and around the opening, 0 for none",
      },
    },
  },
  FIRE: {
    from: "host",
    about: "second step of arming: switches the current on; answered by OK or REFUSED",
    fields: { token: { type: "hex", digits: 8, about: "token of READY, valid once and until it expires" } },
  },
  STOP: {
    from: "host",
    about: "switches the current off and disarms, in any state; answered by OK",
    fields: {},
  },
  CLEAR: {
    from: "host",
    about: "leaves the fault state once its cause is gone; answered by OK or REFUSED",
    fields: {},
  },
  AGAIN: {
    from: "host",
    about: "asks for lines again, byte for byte as first sent; answered by those lines, or GONE",
    fields: {
      first: { type: "hex", digits: 4, about: "first sequence number wanted" },
      last: { type: "hex", digits: 4, about: "last sequence number wanted" },
    },
  },
  DONE: {
    from: "host",
    about: "acknowledges RESULT, which the rig repeats until then; answered by OK or REFUSED",
    fields: { shot },
  },

  IDENT: {
    from: "rig",
    about:
      "one item of the identification; the last item is `end`, whose value is the number of items before it",
    fields: {
      item: {
        type: "choice",
        of: [
          "protocol",
          "model",
          "serial",
          "firmware",
          "lowest-ma",
          "highest-ma",
          "rms-windows",
          "line-hz",
          "raw-hz",
          "timer-ns",
          "tick-hz",
          "channels",
          "beat-ms",
          "token-ms",
          "longest-ms",
          "kept-lines",
          "emulated",
          "end",
        ],
        about: "what is told",
      },
      value: { type: "text", about: "its value" },
    },
  },
  STATE: {
    from: "rig",
    about: "answer to BEAT, and sent unasked when the state changes",
    fields: {
      at,
      state: { type: "choice", of: ["safe", "armed", "on", "fault"], about: "state of the rig" },
      interlock: { type: "choice", of: ["closed", "open"], about: "the interlock loop of the test area" },
      button: { type: "choice", of: ["released", "pressed"], about: "the hard-wired stop button" },
      ambient: {
        type: "integer",
        min: -60_000,
        max: 150_000,
        unit: "mdegC",
        about: "air temperature beside the specimen",
      },
      source: {
        type: "integer",
        min: -60_000,
        max: 250_000,
        unit: "mdegC",
        about: "temperature of the current source",
      },
      last: {
        type: "hex",
        digits: 4,
        about: "sequence number of the newest line that the rig sent before this one",
      },
    },
  },
  READY: {
    from: "rig",
    about: "armed; the token must come back in FIRE before it expires",
    fields: {
      to: answered,
      shot,
      token: { type: "hex", digits: 8, about: "token for FIRE" },
      expires: { type: "integer", min: 1, max: 600_000, unit: "ms", about: "how long the token is valid" },
    },
  },
  OK: { from: "rig", about: "the command was carried out", fields: { to: answered } },
  REFUSED: {
    from: "rig",
    about: "the command was not carried out; nothing changed",
    fields: {
      to: answered,
      code: {
        type: "choice",
        of: [
          "unknown-message",
          "bad-value",
          "version",
          "out-of-range",
          "not-safe",
          "not-armed",
          "wrong-token",
          "token-expired",
          "interlock",
          "over-temperature",
          "stop-button",
          "fault-present",
          "result-pending",
        ],
        about: "why",
      },
      detail: { type: "text", about: "what was found and what is accepted", optional: true },
    },
  },
  EVENT: {
    from: "rig",
    about: "something happened during a shot",
    fields: {
      shot,
      at,
      kind: {
        type: "choice",
        of: ["onset", "opening", "off"],
        about: "current began; a pole opened; the source was switched off",
      },
      pole: {
        type: "integer",
        min: 1,
        max: 4,
        unit: "1",
        about: "for opening: which pole, absent if the rig cannot tell",
        optional: true,
        when: { field: "kind", is: "opening", presence: "allowed" },
      },
      why: {
        type: "choice",
        of: offReasons,
        about: "for off: why",
        optional: true,
        when: { field: "kind", is: "off", presence: "required" },
      },
    },
  },
  SAMPLE: {
    from: "rig",
    about: "true RMS current; value i belongs to the window that ends at t0 + i * step and is one step long",
    fields: {
      shot,
      t0: { ...at, about: "end of the first value's window on the rig's own clock" },
      step: { type: "integer", min: 1, max: 1_000_000, unit: "us", about: "time from one value to the next" },
    },
    values: { min: 0, max: 200_000_000, unit: "mA", about: "true RMS current" },
  },
  RAW: {
    from: "rig",
    about: "instantaneous current around the onset or the opening; value i was taken at t0 + i * step",
    fields: {
      shot,
      window: { type: "choice", of: ["onset", "opening"], about: "around what" },
      t0: { ...at, about: "time of the first value on the rig's own clock" },
      step: {
        type: "integer",
        min: 1,
        max: 10_000_000,
        unit: "ns",
        about: "time from one value to the next",
      },
    },
    values: { min: -400_000_000, max: 400_000_000, unit: "mA", about: "instantaneous current" },
  },
  RESULT: {
    from: "rig",
    about: "what the firmware measured itself; repeated until DONE",
    fields: {
      shot,
      outcome: {
        type: "choice",
        of: ["opened", "not-opened"],
        about: "whether the specimen opened the circuit",
      },
      why: { type: "choice", of: offReasons, about: "why the source went off" },
      ontime: {
        type: "integer",
        min: 0,
        max: 86_400_000_000,
        unit: "us",
        about: "from onset to opening or source off",
      },
      rms: {
        type: "integer",
        min: 0,
        max: 200_000_000,
        unit: "mA",
        about: "effective current over the on-time",
      },
      samples: {
        type: "integer",
        min: 0,
        max: 4_294_967_295,
        unit: "1",
        about: "number of SAMPLE values sent",
      },
    },
  },
  GONE: {
    from: "rig",
    about: "lines asked for are no longer kept",
    fields: {
      first: { type: "hex", digits: 4, about: "first sequence number" },
      last: { type: "hex", digits: 4, about: "last sequence number" },
    },
  },
} as const satisfies Readonly<Record<string, MessageDescription>>;

type Messages = typeof messages;
type FieldValue<F> = F extends { type: "integer" }
  ? number
  : F extends { type: "choice"; of: readonly (infer C)[] }
    ? C
    : string;
type OptionalKeys<F> = { [K in keyof F]: F[K] extends { optional: true } ? K : never }[keyof F];
type Fields<F> = { [K in Exclude<keyof F, OptionalKeys<F>>]: FieldValue<F[K]> } & {
  [K in OptionalKeys<F>]?: FieldValue<F[K]>;
};
type Values<M> = M extends { values: object } ? { values: readonly number[] } : unknown;
type MessageFrom<Who extends "host" | "rig"> = {
  [V in keyof Messages]: Messages[V]["from"] extends Who
    ? { verb: V } & Fields<Messages[V]["fields"]> & Values<Messages[V]>
    : never;
}[keyof Messages];

/** A message that the host sends, decoded: its verb, its fields by name. */
export type HostMessage = MessageFrom<"host">;
/** A message that the rig sends, decoded: its verb, its fields by name, and `values` where it has any. */
export type RigMessage = MessageFrom<"rig">;
export type Message = HostMessage | RigMessage;
/** Why the source of current was switched off. */
export type OffReason = (typeof offReasons)[number];
/** Which poles carry the current in a shot. */
export type WireLoading = (typeof loading.of)[number];
