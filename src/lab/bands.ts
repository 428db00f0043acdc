import { readFileSync } from "node:fs";
import {
  addBandBody,
  type BandAbout,
  type BandView,
  bandAboutSchema,
  bandEdgesSchema,
} from "../contract/band-schema.ts";
import type { EntryBodies } from "../contract/ledger-entries.ts";
import { canonicalJson } from "../core/evidence/canonical-json.ts";
import { sha256Hex } from "../core/evidence/sha256-hex.ts";
import { type Band, checkBand } from "../core/limits/band.ts";
import { parseBandTable } from "../core/limits/parse-band-table.ts";
import { readCsvRows } from "../exchange/read-csv-rows.ts";
import { currentEntries } from "./amendments-current.ts";
import { checkAgainstSchema } from "./check-against-schema.ts";
import { originOf } from "./entry-origin.ts";
import { InputError } from "./input-error.ts";
import type { Lab } from "./lab.ts";
import { readJsonFile } from "./read-json-file.ts";

type Edges = Pick<Band, "current" | "minimum" | "maximum">;
type BandEntry = EntryBodies["band-added"];

/** All bands of the lab, in the order in which they were added. */
export function bandViews(lab: Pick<Lab, "store">): BandView[] {
  return currentEntries(lab, "band-added").map(({ entry: { body, at } }) => ({
    ...body,
    addedAt: at,
  }));
}

/** @throws InputError that names the bands there are */
export function bandOf(lab: Pick<Lab, "store">, id: string): Band {
  const bands = bandViews(lab);
  const found = bands.find(({ band }) => band.id === id);
  if (found === undefined) {
    const there = bands.map(({ band }) => band.id).join(", ") || "none yet";
    throw new InputError(`there is no band "${id}"; there are: ${there}`);
  }
  return found.band;
}

/**
 * Adds the band in a file: CSV as `parseBandTable` takes it, or JSON with `current`, `minimum` and `maximum`.
 *
 * @throws InputError naming file and line, or place in the list; nothing is stored then
 */
export function importBand(lab: Lab, path: string, about: BandAbout): BandEntry {
  const checked = checkAgainstSchema(bandAboutSchema, about, "band");
  if (/\.json$/i.test(path)) {
    const edges = checkAgainstSchema(bandEdgesSchema, readJsonFile(path), path);
    return append(lab, checked, soundEdges(edges, path), sha256Hex(readText(path)));
  }
  if (!/\.csv$/i.test(path))
    throw new InputError(`${path}: the name of a band's file ends in .csv or .json, found neither`);
  const text = readText(path);
  const read = readCsvRows(text);
  if (!read.ok) throw new InputError(`${path}, line ${read.line}: ${read.problem}`);
  const parsed = parseBandTable(read.rows);
  if (!parsed.ok) throw refusal(path, parsed.problems);
  return append(lab, checked, parsed.edges, sha256Hex(text));
}

/** Adds a band from a form. @throws InputError as `importBand` does */
export function addBand(lab: Lab, value: unknown, where: string): BandEntry {
  const { current, minimum, maximum, ...about } = checkAgainstSchema(addBandBody, value, where);
  const edges = soundEdges({ current, minimum, maximum }, where);
  return append(lab, about, edges, sha256Hex(canonicalJson(edges)));
}

function readText(path: string): string {
  try {
    return readFileSync(path, "utf8");
  } catch (error) {
    throw new InputError(
      `${path}: cannot be read: ${error instanceof Error ? error.message : String(error)}`,
    );
  }
}

function soundEdges(edges: Edges, where: string): Edges {
  const problems = checkBand(edges);
  if (problems.length > 0) throw refusal(where, problems);
  return edges;
}

/** Each problem as a field of its own: what stands before the first colon is its place. */
function refusal(where: string, problems: readonly string[]): InputError {
  const fields = problems.map((problem) => {
    const colon = problem.indexOf(": ");
    return colon === -1
      ? { field: "edges", problem }
      : { field: problem.slice(0, colon), problem: problem.slice(colon + 2) };
  });
  const more = problems.length > 5 ? `; and ${problems.length - 5} more` : "";
  return new InputError(`${where}: ${problems.slice(0, 5).join("; ")}${more}`, fields);
}

function append(lab: Lab, about: BandAbout, edges: Edges, tableHash: string): BandEntry {
  const taken =
    bandViews(lab).some(({ band }) => band.id === about.id) ||
    lab.limits.all().some((set) => set.id === about.id);
  if (taken) {
    const problem = `"${about.id}" is taken by a band or a limit set; a band is never replaced, choose another`;
    throw new InputError(`band: id ${problem}`, [{ field: "id", problem }]);
  }
  const { source } = about;
  const body: BandEntry = {
    band: {
      id: about.id,
      title: about.title,
      ...edges,
      source: {
        document: source.document,
        edition: source.edition ?? null,
        clause: source.clause ?? null,
        standing: source.standing ?? "seen second-hand",
        doubtful: source.doubtful ?? false,
        note: source.note ?? "",
      },
    },
    makeCode: about.makeCode ?? null,
    typeCode: about.typeCode ?? null,
    tableHash,
  };
  lab.store.ledger.append("band-added", body, originOf(lab));
  return body;
}
