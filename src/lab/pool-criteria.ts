import type { StudyCounts } from "../contract/ledger-entries.ts";
import { formatMultiple } from "../core/units/format-multiple.ts";
import { InputError } from "./input-error.ts";

const plain = (text: string) => text.trim().replaceAll(/\s+/g, " ").toLowerCase();

/** Two studies have one criterion where its words agree, but for case and spaces, and so does the multiple. */
export const sameCriterion = (a: StudyCounts, b: StudyCounts): boolean =>
  plain(a.criterion) === plain(b.criterion) && a.multiple === b.multiple;

/** A study's criterion with its multiple, in words. */
export const criterionOf = ({ criterion, multiple }: Pick<StudyCounts, "criterion" | "multiple">): string =>
  multiple === null ? criterion : `${criterion}, at ${formatMultiple(multiple)}`;

/**
 * The studies that can be pooled: those of the criterion and multiple asked for, and of one criterion unless mixing was asked
 * for.
 *
 * @throws InputError where none is left, or where criteria differ, naming those there are
 */
export function chooseStudies(
  studies: readonly StudyCounts[],
  { criterion, multiple, mixed }: { criterion: string | null; multiple: number | null; mixed: boolean },
): StudyCounts[] {
  const known = studies.filter((study, at) => studies.findIndex((one) => sameCriterion(one, study)) === at);
  const list = known
    .map((one) => `"${criterionOf(one)}" (${studies.filter((study) => sameCriterion(one, study)).length})`)
    .join("; ");
  if (studies.length === 0)
    throw new InputError("there are no studies to pool: import some with `asfound studies import FILE.csv`");
  const chosen = studies.filter(
    (study) =>
      (criterion === null || plain(study.criterion) === plain(criterion)) &&
      (multiple === null || (study.multiple !== null && Math.abs(study.multiple - multiple) < 1e-9)),
  );
  const [first] = chosen;
  if (first === undefined)
    throw new InputError(
      `criterion: found "${criterion ?? ""}"${multiple === null ? "" : ` at ${formatMultiple(multiple)}`}, which no study has; the studies have: ${list}`,
    );
  if (!mixed && chosen.some((study) => !sameCriterion(study, first)))
    throw new InputError(
      `the studies have different criteria and are not pooled: ${list}; choose one with the criterion and the multiple, or ask for mixed criteria`,
    );
  return chosen;
}
