import type { RateQuestion, RateRow, RatesView, StratumAttribute } from "../contract/rates.ts";
import { formatMultiple } from "../core/units/format-multiple.ts";
import { formatPercent } from "../core/units/format-percent.ts";
import { rateCaution } from "./cautions.ts";
import type { Lab } from "./lab.ts";
import { compareRates } from "./rates-comparison.ts";
import { criterionWords, failingFindings } from "./rates-question.ts";
import { compareStrata, type Stratum, selectCases } from "./rates-selection.ts";
import { RateTally } from "./rates-tally.ts";

/**
 * Failure rates of the lab's own specimens: k of n by stratum, with bounds, what was not decided apart, and the strata compared.
 *
 * Invented specimens are left out, but in a demo lab, where all are.
 */
export function ratesView(lab: Pick<Lab, "store">, question: RateQuestion): RatesView {
  const selection = selectCases(lab, question);
  const tallies = gather(lab, question, selection);
  const total = new RateTally();
  for (const tally of tallies) total.addAll(tally);
  const strata = selection.strata
    .map((stratum, at) => ({ stratum, tally: tallies[at] ?? new RateTally() }))
    .toSorted((a, b) => compareStrata(a.stratum, b.stratum));
  const settings = { confidence: question.confidence, clustered: question.clusters !== "none" };
  // A specimen that stands in several strata must count once in the total.
  const whole = selection.overlapping ? totalWithoutStrata(lab, question) : total;
  const totalRow = whole.row({}, "all", settings);
  const rows =
    question.by.length === 0
      ? [totalRow]
      : strata.map(({ stratum, tally }) => tally.row(named(question.by, stratum), stratum.label, settings));
  const criterion = criterionWords(question, selection.multiples);
  const received = lab.store.failureCounts.received();
  const counted = Object.values(whole.counts).reduce((sum, count) => sum + count, 0);
  const eligible = selection.inventedCounted ? received.specimens : received.specimens - received.demo;
  const notes = notesOf(lab, question, selection, received.demo);
  return {
    criterion: selection.inventedCounted ? `${criterion} Demo lab: every specimen is invented.` : criterion,
    caution: rateCaution,
    question,
    rows,
    total: totalRow,
    compared: selection.overlapping ? [] : compareRates(question, strata),
    sentence: sentenceOf(question, totalRow, criterion, selection.inventedCounted),
    specimens: {
      received: received.specimens,
      invented: received.demo,
      inventedCounted: selection.inventedCounted,
      counted,
      notShotSo: eligible - counted,
    },
    notes,
    figure: {
      title: "Failure rates",
      criterion,
      rows: rows.flatMap(({ label, k, n, estimate, intervals: { clopperPearson: exact } }) =>
        estimate === null || exact === null ? [] : [{ label, k, n, estimate, ...exact }],
      ),
      notes: [...notes, rateCaution],
    },
  };
}

function gather(
  lab: Pick<Lab, "store">,
  question: RateQuestion,
  { groups, stratumOf, alikeIn }: ReturnType<typeof selectCases>,
): RateTally[] {
  const tallies: RateTally[] = [];
  const { state, take, failure } = question;
  const query = { state, take, groups, failing: failingFindings[failure] };
  lab.store.failureCounts.count(query, (kind, cluster, group, grade, specimens) => {
    const stratum = stratumOf(kind, cluster, group);
    if (stratum === null) return;
    let tally = tallies[stratum];
    if (tally === undefined) {
      tally = new RateTally();
      tallies[stratum] = tally;
    }
    tally.add(grade, specimens, alikeIn(cluster));
  });
  return tallies;
}

function totalWithoutStrata(lab: Pick<Lab, "store">, question: RateQuestion): RateTally {
  const undivided = { ...question, by: [] };
  return gather(lab, undivided, selectCases(lab, undivided))[0] ?? new RateTally();
}

function named(by: readonly StratumAttribute[], { values }: Stratum): RateRow["stratum"] {
  return Object.fromEntries(by.map((name, at) => [name, values[at]?.label ?? ""]));
}

function notesOf(
  lab: Pick<Lab, "store">,
  question: RateQuestion,
  selection: ReturnType<typeof selectCases>,
  invented: number,
): string[] {
  const notes: string[] = [];
  const made = [...new Set(lab.store.failureCounts.points().map(({ multiple }) => multiple))].toSorted(
    (a, b) => a - b,
  );
  for (const multiple of question.points) {
    if (selection.multiples.some((one) => Math.abs(one - multiple) < 1e-9)) continue;
    notes.push(
      `No shot on record answers to ${formatMultiple(multiple)} and this criterion; shots were made at ${
        made.length === 0 ? "no multiple at all" : made.map((one) => formatMultiple(one)).join(", ")
      }.`,
    );
  }
  if (selection.inventedCounted) notes.push("Demo lab: every specimen is invented.");
  else if (invented > 0) notes.push(`Left out as invented: ${invented}.`);
  if (selection.overlapping)
    notes.push("A specimen may stand in several of these strata, so that they are not compared with a test.");
  return notes;
}

function sentenceOf(question: RateQuestion, row: RateRow, criterion: string, demo: boolean): string {
  const open = row.undetermined + row.excluded;
  const apart =
    open === 0 || row.lowest === null || row.highest === null
      ? "None was undetermined or excluded."
      : `Counted apart: ${row.undetermined} undetermined, ${row.excluded} excluded; with them the rate would be ${formatPercent(row.lowest)} if none had failed and ${formatPercent(row.highest)} if all had.`;
  const { clopperPearson: exact, clusterRobust: robust } = row.intervals;
  if (row.estimate === null || exact === null)
    return `Not estimable: no specimen was decided. ${open > 0 ? apart : "None was shot so."} ${criterion}`;
  const level = formatPercent(question.confidence, 4);
  const clustered =
    robust === null
      ? ""
      : `; allowing for ${row.clusters} clusters ${formatPercent(robust.lower)} to ${formatPercent(robust.upper)}`;
  return `${row.k} of ${row.n} ${demo ? "invented " : ""}specimens failed: ${formatPercent(row.estimate)} (${level} exact interval ${formatPercent(exact.lower)} to ${formatPercent(exact.upper)}${clustered}). ${apart} ${criterion} ${rateCaution}`;
}
