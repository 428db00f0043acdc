import type { StudyCounts } from "../contract/ledger-entries.ts";
import type { StudyView } from "../contract/studies.ts";
import { sha256Hex } from "../core/evidence/sha256-hex.ts";
import { clopperPearson } from "../core/stats/clopper-pearson.ts";
import { decimalNumber, readCsvTable } from "../exchange/read-csv-table.ts";
import { currentEntries } from "./amendments-current.ts";
import { originOf } from "./entry-origin.ts";
import { InputError } from "./input-error.ts";
import type { Lab } from "./lab.ts";

/** Columns of a file of studies; further ones are risk-of-bias answers, named `rob_…`. */
export const studyColumns = [
  ...["study", "year", "stratum", "criterion", "multiple", "tested", "failed", "selection", "citation"],
] as const;
const selections = ["all of a panel", "at random", "on suspicion", "unknown"] as const;
const answers = ["low", "high", "unclear"] as const;

type Problem = { field: string; problem: string };

/**
 * Reads the text of a CSV file of studies. All of it or nothing.
 *
 * @param where the file's name, for messages
 * @throws InputError naming every line and column that is wrong, with what was found and what is accepted
 */
export function parseStudies(text: string, where: string): StudyCounts[] {
  const header = (text.replace(/^\uFEFF/, "").split(/\r?\n/, 1)[0] ?? "")
    .split(",")
    .map((name) => name.trim().replace(/^"(.*)"$/, "$1"));
  const biasColumns = header.filter((name) => /^rob_[A-Za-z0-9_]+$/.test(name));
  const read = readCsvTable(text, studyColumns, [...new Set(biasColumns)]);
  if (!read.ok)
    throw new InputError(`${where}, line ${read.line}: ${read.problem}; rob_… columns are optional`);
  if (read.table.rows.length === 0) throw new InputError(`${where}: holds no study`);
  const problems: Problem[] = [];
  const lines = new Map<string, number>();
  const studies = read.table.rows.map(({ line, cells }) => {
    const study = parseRow(cells, biasColumns, (column, accepted) =>
      problems.push({
        field: `line ${line}, ${column}`,
        problem: `found "${cells[column] ?? ""}"; accepted: ${accepted}`,
      }),
    );
    const first = lines.get(identity(study));
    if (first !== undefined)
      problems.push({
        field: `line ${line}, study`,
        problem: `found "${study.study}" with the same stratum, criterion and multiple as line ${first}; accepted: each once`,
      });
    else lines.set(identity(study), line);
    return study;
  });
  refuseAll(where, problems);
  return studies;
}

/**
 * Records the studies of a CSV text in the ledger: all rows or none.
 *
 * @throws InputError as {@link parseStudies}, and for a study that is recorded already
 */
export function importStudies(lab: Lab, text: string, where: string): StudyView[] {
  const studies = parseStudies(text, where);
  const recorded = new Map(recordedStudies(lab).map(({ counts, sequence }) => [identity(counts), sequence]));
  refuseAll(
    where,
    studies.flatMap((study) => {
      const entry = recorded.get(identity(study));
      return entry === undefined
        ? []
        : [
            {
              field: `study "${study.study}", stratum "${study.stratum}"`,
              problem: `is recorded already with this criterion and multiple, by entry ${entry} of the ledger; accepted: each once`,
            },
          ];
    }),
  );
  const fileHash = sha256Hex(new TextEncoder().encode(text));
  const entries = lab.store.ledger.appendAll(
    studies.map((study) => ({ kind: "study-recorded" as const, body: { study, fileHash } })),
    originOf(lab),
  );
  return studies.map((study, at) => studyView(study, entries[at]?.sequence ?? null));
}

/** The studies in the ledger, in the order in which they were recorded. */
export function recordedStudies(lab: Pick<Lab, "store">): StudyView[] {
  return currentEntries(lab, "study-recorded").map(({ entry: { body, sequence } }) =>
    studyView(body.study, sequence),
  );
}

/** A study with its own rate. */
export function studyView(counts: StudyCounts, sequence: number | null): StudyView {
  const { failed, tested } = counts;
  return { sequence, counts, estimate: failed / tested, exact: clopperPearson(failed, tested, 0.95) };
}

const identity = ({ study, stratum, criterion, multiple }: StudyCounts): string =>
  JSON.stringify(
    [study, stratum, criterion].map((text) => text.trim().toLowerCase()).concat(String(multiple)),
  );

function refuseAll(where: string, problems: readonly Problem[]): void {
  const [first] = problems;
  if (first === undefined) return;
  const more = problems.length === 1 ? "" : ` (and ${problems.length - 1} more)`;
  throw new InputError(`${where}, ${first.field}: ${first.problem}${more}. Nothing was stored.`, problems);
}

function parseRow(
  cells: Readonly<Record<string, string>>,
  biasColumns: readonly string[],
  refuse: (column: string, accepted: string) => void,
): StudyCounts {
  const text = (column: string, accepted: string): string => {
    const found = (cells[column] ?? "").trim();
    if (found === "" || found.length > 2000) refuse(column, accepted);
    return found;
  };
  const number = (column: string, accepted: string, fits: (value: number) => boolean): number => {
    const value = decimalNumber(cells[column] ?? "");
    if (!fits(value)) refuse(column, accepted);
    return value;
  };
  const whole = (least: number, most: number) => (value: number) =>
    Number.isSafeInteger(value) && value >= least && value <= most;
  const tested = number("tested", "a whole number of 1 or more", whole(1, 1e9));
  const most = Number.isSafeInteger(tested) && tested >= 1 ? tested : 1e9;
  const selection = selections.find((choice) => choice === cells.selection);
  if (selection === undefined) refuse("selection", selections.join(", "));
  const riskOfBias: Record<string, (typeof answers)[number]> = {};
  for (const column of biasColumns) {
    if ((cells[column] ?? "") === "") continue;
    const answer = answers.find((choice) => choice === cells[column]);
    if (answer === undefined) refuse(column, answers.join(", "));
    else riskOfBias[column.slice("rob_".length)] = answer;
  }
  return {
    study: text("study", "the study's name"),
    year: number("year", "a year from 1900 to 2100", whole(1900, 2100)),
    stratum: (cells.stratum ?? "").trim() || "all",
    criterion: text("criterion", "what counted as a failure, in words"),
    multiple:
      (cells.multiple ?? "") === ""
        ? null
        : number("multiple", "a multiple of rated current above 0, or nothing", (m) => m > 0 && m < 1000),
    tested,
    failed: number(
      "failed",
      `a whole number from 0 to ${most === 1e9 ? "the number tested" : most}`,
      whole(0, most),
    ),
    selection: selection ?? "unknown",
    riskOfBias,
    citation: text("citation", "where the counts were published"),
  };
}
