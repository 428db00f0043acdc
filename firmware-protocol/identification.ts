import type { messages } from "./messages.ts";

type Item = (typeof messages.IDENT.fields.item.of)[number];

/** What the value of an IDENT item is: its form, and its unit where it is a number. */
export type IdentificationItem = {
  form: "text" | "integer" | "yes or no" | "list of cycle, half-cycle";
  unit: string;
  about: string;
};

/** What a rig tells of itself, every item once. */
export const identification: Readonly<Record<Item, IdentificationItem>> = {
  protocol: { form: "integer", unit: "1", about: "version of the wire that the rig speaks" },
  model: { form: "text", unit: "", about: "what the maker calls this kind of rig" },
  serial: { form: "text", unit: "", about: "serial number, unlike that of any other rig of the model" },
  firmware: { form: "text", unit: "", about: "version of the firmware" },
  "lowest-ma": { form: "integer", unit: "mA", about: "smallest true RMS current that can be held" },
  "highest-ma": { form: "integer", unit: "mA", about: "largest true RMS current that can be held" },
  "rms-windows": {
    form: "list of cycle, half-cycle",
    unit: "",
    about: "windows of true RMS that ARM may ask for, parted by commas",
  },
  "line-hz": { form: "integer", unit: "Hz", about: "nominal frequency of the current, 50 or 60" },
  "raw-hz": { form: "integer", unit: "Hz", about: "rate of raw samples, 0 if the rig has none" },
  "timer-ns": { form: "integer", unit: "ns", about: "resolution of the clock that stamps all times" },
  "tick-hz": { form: "integer", unit: "Hz", about: "nominal rate at which that clock is counted" },
  channels: { form: "integer", unit: "1", about: "number of current sensors" },
  "beat-ms": { form: "integer", unit: "ms", about: "time without BEAT after which the current goes off" },
  "token-ms": { form: "integer", unit: "ms", about: "time for which a token of READY is valid" },
  "longest-ms": { form: "integer", unit: "ms", about: "largest `longest` that ARM may ask for" },
  "kept-lines": { form: "integer", unit: "1", about: "number of newest lines kept for AGAIN, at least 1024" },
  emulated: { form: "yes or no", unit: "", about: "yes if no real current flows" },
  end: { form: "integer", unit: "1", about: "number of items before it; always the last" },
};
