import type { Specimen } from "../../src/core/specimen/specimen.ts";

/** One field of the form in which a specimen is received. */
export interface SpecimenField {
  name: keyof Specimen;
  label: string;
  unit?: string;
  kind: "text" | "number" | "date" | "choice" | "long";
  choices?: readonly (readonly [value: string, words: string])[];
  example?: string;
  required?: boolean;
  /** Stays for the next specimen, which often comes from the same panel. */
  kept?: boolean;
  /** `first`: always in view; `more`: under the fold. */
  place: "first" | "more";
}

const same = (values: readonly string[]) => values.map((value) => [value, value] as const);

/** Every field of a specimen that a person enters, in the order of the form. */
export const specimenFields: readonly SpecimenField[] = [
  { name: "label", label: "Label", kind: "text", example: "ML-09", required: true, place: "first" },
  {
    name: "ratedAmps",
    label: "Rated current",
    unit: "A",
    kind: "number",
    example: "20",
    required: true,
    kept: true,
    place: "first",
  },
  {
    name: "poles",
    label: "Poles",
    kind: "choice",
    choices: [
      ["1", "1 pole"],
      ["2", "2 poles"],
      ["3", "3 poles"],
    ],
    required: true,
    kept: true,
    place: "first",
  },
  {
    name: "volts",
    label: "Rated voltage",
    unit: "V",
    kind: "number",
    example: "240",
    required: true,
    kept: true,
    place: "first",
  },
  { name: "job", label: "Job", kind: "text", example: "site it was removed from", kept: true, place: "more" },
  { name: "panel", label: "Panel", kind: "text", kept: true, place: "more" },
  { name: "circuit", label: "Circuit position", kind: "text", place: "more" },
  { name: "receivedOn", label: "Received on", kind: "date", kept: true, place: "more" },
  {
    name: "handleAsReceived",
    label: "Handle as received",
    kind: "choice",
    choices: same(["on", "off", "tripped", "unknown"]),
    place: "more",
  },
  { name: "operationsSinceRemoval", label: "Handle movements since removal", kind: "number", place: "more" },
  { name: "condition", label: "Condition as received", kind: "long", place: "more" },
  {
    name: "selection",
    label: "How it was chosen",
    kind: "choice",
    choices: same(["all of a panel", "at random", "on suspicion", "unknown"]),
    kept: true,
    place: "more",
  },
  {
    name: "tripType",
    label: "How it trips",
    kind: "choice",
    choices: same(["thermal-magnetic", "electronic", "magnetic-only", "unknown"]),
    kept: true,
    place: "more",
  },
  {
    name: "typeLetter",
    label: "Type letter (IEC 60898-1)",
    kind: "choice",
    choices: same(["B", "C", "D"]),
    kept: true,
    place: "more",
  },
  { name: "frameAmps", label: "Frame size", unit: "A", kind: "number", kept: true, place: "more" },
  {
    name: "calibratedCelsius",
    label: "Calibrated for an ambient of",
    unit: "°C",
    kind: "number",
    kept: true,
    place: "more",
  },
  { name: "makeCode", label: "Your code for the maker", kind: "text", kept: true, place: "more" },
  { name: "typeCode", label: "Your code for the type", kind: "text", kept: true, place: "more" },
  { name: "dateCode", label: "Date code as marked", kind: "text", place: "more" },
  { name: "madeYear", label: "Year of manufacture", kind: "number", place: "more" },
  { name: "notes", label: "Notes", kind: "long", place: "more" },
];

/** What stands in the form: text by the name of the field. */
export type FormText = Partial<Record<keyof Specimen, string>>;

/**
 * The specimen that the form describes, or for each wrong field what was found and what is accepted. Fields left empty are
 * left out. The server checks once more and has the last word.
 */
export function specimenFromForm(
  text: FormText,
): { ok: true; details: Specimen } | { ok: false; fields: { field: string; problem: string }[] } {
  const details: Record<string, unknown> = {};
  const fields: { field: string; problem: string }[] = [];
  for (const field of specimenFields) {
    const written = text[field.name]?.trim() ?? "";
    if (written === "") {
      if (field.required) fields.push({ field: field.name, problem: emptyWords(field) });
      continue;
    }
    if (field.kind !== "number" && field.name !== "poles") {
      details[field.name] = written;
      continue;
    }
    const value = Number(written.replace(",", "."));
    if (Number.isFinite(value)) details[field.name] = value;
    else
      fields.push({
        field: field.name,
        problem: `Found "${written}"; a number is accepted${exampleWords(field)}.`,
      });
  }
  if (text.emulatedBreaker) details.emulatedBreaker = text.emulatedBreaker;
  if (text.demo === "yes") details.demo = true;
  return fields.length > 0 ? { ok: false, fields } : { ok: true, details: details as unknown as Specimen };
}

/** What stays in the form for the next specimen. */
export function keptForNext(text: FormText): FormText {
  const kept: FormText = {};
  for (const { name, kept: keep } of specimenFields) {
    const written = text[name];
    if (keep && written !== undefined) kept[name] = written;
  }
  return kept;
}

function exampleWords(field: SpecimenField): string {
  if (field.example === undefined) return "";
  return `, for example ${field.example}${field.unit === undefined ? "" : ` ${field.unit}`}`;
}

function emptyWords(field: SpecimenField): string {
  if (field.kind === "choice") return `Choose: ${field.choices?.map(([, words]) => words).join(", ")}.`;
  return `Enter the ${field.label.toLowerCase()}${exampleWords(field)}.`;
}
