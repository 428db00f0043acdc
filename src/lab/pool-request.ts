import { readFileSync } from "node:fs";
import type { StudyCounts } from "../contract/ledger-entries.ts";
import type { PoolComparison, PoolView } from "../contract/studies.ts";
import { parseStudies, recordedStudies } from "./import-studies.ts";
import { InputError } from "./input-error.ts";
import type { Lab } from "./lab.ts";
import { ownStudy } from "./own-study.ts";
import { chooseStudies } from "./pool-criteria.ts";
import { compareModels, type PoolQuestion, poolView } from "./pool-studies.ts";

type Sources = { recorded: StudyCounts[]; own: StudyCounts | null };

/** Where the studies come from: those recorded in a lab, those of a file, or both; and the lab's own counts where asked for. */
function sources(
  lab: Pick<Lab, "store" | "now"> | null,
  file: readonly StudyCounts[],
  question: PoolQuestion,
): Sources {
  const recorded = [...(lab === null ? [] : recordedStudies(lab).map(({ counts }) => counts)), ...file];
  if (!question.withLab) return { recorded, own: null };
  if (lab === null) throw new InputError("the lab's own results need a data directory");
  const multiples = new Set(chooseStudies(recorded, question).map(({ multiple }) => multiple));
  const [multiple] = multiples;
  return { recorded, own: ownStudy(lab, multiples.size === 1 ? (multiple ?? null) : null) };
}

/** Pools what a question asks for. @throws InputError naming what is missing or mixed */
export function pool(
  lab: Pick<Lab, "store" | "now"> | null,
  file: readonly StudyCounts[],
  question: PoolQuestion,
): PoolView {
  const { recorded, own } = sources(lab, file, question);
  return poolView(recorded, own, question);
}

/** The same by every model. */
export function poolByEveryModel(lab: Pick<Lab, "store" | "now">, question: PoolQuestion): PoolComparison {
  const { recorded, own } = sources(lab, [], question);
  return compareModels(recorded, own, question);
}

/** Studies of a file, without recording them. @throws InputError naming line and column */
export const studiesOfFile = (path: string): StudyCounts[] => parseStudies(textOfFile(path), path);

/** Text of a file. @throws InputError where it cannot be read or is not UTF-8 */
export function textOfFile(path: string): string {
  try {
    return new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(readFileSync(path));
  } catch (error) {
    throw new InputError(
      `${path}: cannot be read as UTF-8 text: ${error instanceof Error ? error.message : String(error)}`,
    );
  }
}
