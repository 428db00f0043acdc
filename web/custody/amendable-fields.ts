import type { AmendedEntry } from "../../src/contract/amendment-schema.ts";
import type { EntryKind } from "../../src/contract/ledger-entries.ts";
import { specimenFields } from "../bench/specimen-fields.ts";
import { readNumber } from "../forms/read-number.ts";
import { fieldWords } from "../ledger/body-facts.tsx";

/** One field that can be corrected. `value` is left out where the field is not there yet. */
export interface AmendableField {
  /** JSON pointer (RFC 6901) into the body. */
  path: string;
  label: string;
  kind: "text" | "number" | "choice" | "lines" | "state";
  choices?: readonly (readonly [value: string, words: string])[];
  value?: unknown;
  /** It can be taken away again. */
  optional: boolean;
}

/** Kinds of entries of which nothing is corrected; the server says of each what is done instead. */
const fixedKinds: readonly EntryKind[] = [
  "station-opened",
  "shot-closed",
  "entry-amended",
  "record-reviewed",
  "record-released",
  "policy-set",
  "programme-locked",
];
/** Fields that name or measure something else, by kind. */
const fixedFields: { readonly [K in EntryKind]?: readonly string[] } = {
  "handle-moved": ["/specimen"],
  "gate-passed": ["/specimen", "/photographs", "/programmeLock"],
  "job-opened": ["/job"],
  "custody-moved": ["/about"],
  "photograph-added": ["/photograph", "/mediaType", "/bytes", "/width", "/height"],
  "band-added": ["/band", "/tableHash"],
  "limit-set-confirmed": ["/limitSet", "/limitSetHash", "/rows"],
  "study-recorded": ["/fileHash"],
};

/** Numbers that may be null: of these the value does not tell that it is a number. */
const numbersOrNull: readonly string[] = ["/expandedPercent", "/expandedSeconds"];

/** The fields of an entry that can be corrected, as they stand now. None where nothing of it is. */
export function amendableFields({ kind, now }: Pick<AmendedEntry, "kind" | "now">): AmendableField[] {
  if (fixedKinds.includes(kind)) return [];
  const body = now as Readonly<Record<string, unknown>>;
  if (kind === "shot-opened")
    return [
      { path: "/state", label: "State before the test", kind: "state", value: body.state, optional: false },
    ];
  if (kind === "specimen-received")
    return specimenAmendable(body.details as Readonly<Record<string, unknown>>);
  const fixed = fixedFields[kind] ?? [];
  return leaves(body, "").filter(
    ({ path }) => !fixed.some((one) => path === one || path.startsWith(`${one}/`)),
  );
}

function specimenAmendable(details: Readonly<Record<string, unknown>>): AmendableField[] {
  return specimenFields.map(({ name, label, unit, kind, choices, required = false }) => ({
    path: `/details/${name}`,
    label: unit === undefined ? label : `${label}, ${unit}`,
    kind: kind === "number" ? "number" : kind === "choice" ? "choice" : "text",
    ...(choices === undefined ? {} : { choices }),
    ...(details[name] === undefined ? {} : { value: details[name] }),
    optional: !required,
  }));
}

function leaves(value: unknown, path: string): AmendableField[] {
  const label = path
    .slice(1)
    .split("/")
    .map((step) => (/^\d+$/.test(step) ? String(Number(step) + 1) : fieldWords(step)))
    .join(", ");
  const field = { path, label, value, optional: false };
  if (Array.isArray(value) && value.every((one) => typeof one === "string"))
    return [{ ...field, kind: "lines" }];
  if (typeof value === "object" && value !== null)
    return Object.entries(value).flatMap(([name, inner]) =>
      leaves(inner, `${path}/${name.replaceAll("~", "~0").replaceAll("/", "~1")}`),
    );
  if (typeof value === "boolean")
    return [
      {
        ...field,
        kind: "choice",
        choices: [
          ["true", "yes"],
          ["false", "no"],
        ],
      },
    ];
  return [{ ...field, kind: typeof value === "number" || numbersOrNull.includes(path) ? "number" : "text" }];
}

/** How the value of a field stands in the form. */
export function textOfField({ kind, value }: AmendableField): string {
  if (value === undefined || value === null) return "";
  if (kind === "lines") return (value as string[]).join("\n");
  if (kind !== "state") return String(value);
  const state = value as { kind: string; operations?: number };
  return state.kind === "as-found" ? "" : String(state.operations ?? 0);
}

/** The value that the text in the form stands for. Text that is no number stays text: the server says what it accepts. */
export function valueOfField({ kind, value }: AmendableField, text: string): unknown {
  const typed = text.trim();
  if (kind === "lines") return typed.split("\n").flatMap((line) => (line.trim() === "" ? [] : [line.trim()]));
  if (kind === "state")
    return typed === "" ? { kind: "as-found" } : { kind: "exercised", operations: readNumber(typed) };
  if (typeof value === "boolean") return typed === "true";
  const isNumber = kind === "number" || typeof value === "number";
  const number = readNumber(typed);
  if (isNumber && !Number.isNaN(number)) return number;
  return value === null && typed === "" ? null : typed;
}
