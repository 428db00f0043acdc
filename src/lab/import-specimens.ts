import { readFileSync, statSync } from "node:fs";
import { Value } from "typebox/value";
import { longestListBytes, type ReceivedSpecimen } from "../contract/import-schema.ts";
import { specimenSchema } from "../contract/specimen-schema.ts";
import type { Specimen } from "../core/specimen/specimen.ts";
import { decimalNumber, readCsvTable } from "../exchange/read-csv-table.ts";
import { isFormula } from "../exchange/safe-cell.ts";
import { originOf } from "./entry-origin.ts";
import { InputError } from "./input-error.ts";
import type { Lab } from "./lab.ts";

const mostRows = 10_000;

type FieldSchema = {
  type?: string;
  description?: string;
  anyOf?: { const?: string | number }[];
  enum?: (string | number)[];
};

const fields = specimenSchema.properties as unknown as Readonly<Record<string, FieldSchema>>;
const needed: readonly string[] = specimenSchema.required ?? [];

/** Columns that a list of specimens may have; those in `neededColumns` it must have. */
export const specimenColumns: readonly string[] = Object.keys(fields);
export const neededColumns: readonly string[] = needed;

type Wrong = { field: string; problem: string };

/**
 * Receives every specimen of a CSV file, as {@link importSpecimenList} does.
 *
 * @throws InputError also for a file that cannot be read or is too large
 */
export function importSpecimens(lab: Lab, path: string): ReceivedSpecimen[] {
  const size = statSync(path, { throwIfNoEntry: false })?.size ?? 0;
  if (size > longestListBytes)
    throw new InputError(`${path}: the file has ${size} bytes; accepted are ${longestListBytes}`);
  let text: string;
  try {
    text = readFileSync(path, "utf8");
  } catch (error) {
    throw new InputError(
      `${path}: cannot be read: ${error instanceof Error ? error.message : String(error)}`,
    );
  }
  return importSpecimenList(lab, text, path);
}

/**
 * Receives every specimen of a CSV text, in its order: all of them or none. Columns are the fields of a specimen; an empty
 * field is one that is not known.
 *
 * @param where the file's name, for messages
 * @returns the identifiers given, with the labels
 * @throws InputError naming line, column, what was found and what is accepted, for every field that is wrong; for labels
 * that are used twice in the text or already in the ledger; for too many lines
 */
export function importSpecimenList(lab: Lab, text: string, where: string): ReceivedSpecimen[] {
  const read = readCsvTable(
    text,
    needed,
    specimenColumns.filter((name) => !needed.includes(name)),
  );
  if (!read.ok) throw new InputError(`${where}, line ${read.line}: ${read.problem}`);
  const { rows } = read.table;
  if (rows.length === 0)
    throw new InputError(`${where}: there is no specimen below the header; one or more are accepted`);
  if (rows.length > mostRows)
    throw new InputError(`${where}: found ${rows.length} specimens; accepted are ${mostRows} at once`);
  const wrong: Wrong[] = [];
  const details: Specimen[] = [];
  const lineOfLabel = new Map<string, number>();
  for (const { line, cells } of rows) {
    const value = Object.fromEntries(
      Object.entries(cells).flatMap(([name, text]) => (text === "" ? [] : [[name, typed(name, text)]])),
    );
    const problems = [...problemsOf(cells, value), ...labelProblems(lab, String(cells.label), lineOfLabel)];
    wrong.push(...problems.map((one) => ({ ...one, field: `line ${line}, ${one.field}` })));
    lineOfLabel.set(String(cells.label), line);
    if (Value.Check(specimenSchema, value)) details.push(value);
  }
  if (wrong.length > 0) {
    const first = wrong.slice(0, 20);
    const more = wrong.length > first.length ? `; and ${wrong.length - first.length} more` : "";
    throw new InputError(
      `${where}: nothing was received: ${first.map((one) => `${one.field}: ${one.problem}`).join("; ")}${more}`,
      wrong,
    );
  }
  const received = details.map((one, at) => ({
    specimen: lab.store.records.nextSpecimenId(at),
    details: one,
  }));
  lab.store.ledger.appendAll(
    received.map((body) => ({ kind: "specimen-received", body })),
    originOf(lab),
  );
  return received.map(({ specimen, details: { label } }) => ({ specimen, label }));
}

const choicesOf = (name: string): readonly (string | number)[] | null => {
  const about = fields[name];
  return about?.enum ?? about?.anyOf?.flatMap((one) => (one.const === undefined ? [] : [one.const])) ?? null;
};

/** A field's text as the kind of value that its column holds; text that is none stays text, and is told as wrong. */
function typed(name: string, text: string): unknown {
  const type = fields[name]?.type;
  const isNumber = type === "number" || type === "integer" || typeof choicesOf(name)?.[0] === "number";
  if (isNumber) {
    const number = decimalNumber(text);
    return Number.isNaN(number) ? text : number;
  }
  if (type === "boolean" && (text === "true" || text === "false")) return text === "true";
  return text;
}

function problemsOf(cells: Readonly<Record<string, string>>, value: Record<string, unknown>): Wrong[] {
  const problems: Wrong[] = [];
  for (const name of specimenColumns) {
    const about = fields[name] ?? {};
    const schema = (specimenSchema.properties as Record<string, unknown>)[name] as Parameters<
      typeof Value.Check
    >[0];
    const found = value[name];
    if (found === undefined) {
      if (needed.includes(name))
        problems.push({ field: name, problem: `found nothing; accepted: ${acceptedWords(name, about)}` });
    } else if (!Value.Check(schema, found)) {
      problems.push({
        field: name,
        problem: `found "${cells[name]?.slice(0, 80)}"; accepted: ${acceptedWords(name, about)}`,
      });
    } else if (typeof found === "string" && isFormula(found)) {
      problems.push({
        field: name,
        problem: `found "${found.slice(0, 80)}", which a spreadsheet would run as a formula; accepted: text that does not begin with =, +, - or @`,
      });
    }
  }
  return problems;
}

function acceptedWords(name: string, about: FieldSchema): string {
  const choices = choicesOf(name);
  const bounds = about as {
    minimum?: number;
    exclusiveMinimum?: number;
    maximum?: number;
    maxLength?: number;
  };
  const kind =
    choices !== null
      ? choices.join(", ")
      : about.type === "boolean"
        ? "true or false"
        : about.type === "string"
          ? `text${bounds.maxLength === undefined ? "" : ` of at most ${bounds.maxLength} characters`}`
          : [
              about.type === "integer" ? "a whole number" : "a number",
              ...(bounds.exclusiveMinimum === undefined ? [] : [`above ${bounds.exclusiveMinimum}`]),
              ...(bounds.minimum === undefined ? [] : [`from ${bounds.minimum}`]),
              ...(bounds.maximum === undefined ? [] : [`to ${bounds.maximum}`]),
            ].join(" ");
  return about.description === undefined ? kind : `${kind} (${about.description})`;
}

function labelProblems(lab: Pick<Lab, "store">, label: string, seen: ReadonlyMap<string, number>): Wrong[] {
  const field = "label";
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
  if (/[/\\\u0000-\u001f]/.test(label))
    return [{ field, problem: `found ${JSON.stringify(label)}; accepted: a name without / and \\` }];
  const before = seen.get(label);
  if (before !== undefined)
    return [{ field, problem: `found "${label}", already used in line ${before}; a label is unique` }];
  const known = lab.store.records.specimenByLabel(label);
  return known === null
    ? []
    : [
        {
          field,
          problem: `found "${label}", which already names specimen ${known.specimen}; a label is unique in one ledger`,
        },
      ];
}
