import { conformance } from "../core/limits/conformity.ts";
import { edgeRule, ruleWords } from "../core/limits/decision-rule.ts";
import type { LimitRow } from "../core/limits/limit-set.ts";
import { requirementWords } from "../core/limits/requirement-words.ts";
import type { DecisionRule } from "../core/limits/verdict.ts";
import { formatMultiple } from "../core/units/format-multiple.ts";
import { type ExhibitData, shotsOf } from "./document-data.ts";
import type { Block, DataTable } from "./document-model.ts";
import { percentOf } from "./document-words.ts";

/** The limits that were used and how well they are known, and the decision rule with its error rates. */
export function limitBlocks(data: ExhibitData): Block[] {
  const shots = shotsOf(data);
  const rows = usedRows(data);
  const rules = [...new Map(shots.map(({ opened }) => [JSON.stringify(opened.rule), opened.rule])).values()];
  return [
    { kind: "heading", level: 1, text: "Limits and their standing" },
    ...data.limitSets.map(
      (set): Block => ({
        kind: "paragraph",
        text: `Limit set ${set.id}${set.held === null ? "" : `, ${set.held.title}`}; SHA-256 of its canonical JSON ${set.hash}. ${standingOf(data, set.id, set.hash)}${set.held === null ? " The set has been changed since; the rows below are as they were used." : ""}`,
      }),
    ),
    {
      kind: "table",
      title: "Rows used",
      header: ["Row", "Requirement", "Document", "How well known", "What was seen"],
      rows: rows.map(({ row }) => [
        row.id,
        `at ${formatMultiple(row.multiple)}: must ${requirementWords(row.requirement)}`,
        [row.source.document, row.source.edition, row.source.clause].filter(Boolean).join(", "),
        `${row.source.standing}${row.source.doubtful ? ", doubtful" : ""}`,
        row.source.note,
      ]),
      widths: [0.13, 0.2, 0.2, 0.14, 0.33],
    },
    ...choiceBlocks(data),
    { kind: "heading", level: 1, text: "Decision rule and its error rates" },
    ...rules.flatMap(ruleBlocks),
    { kind: "paragraph", text: `Edge rule: ${edgeRule}` },
    {
      kind: "list",
      items: [
        "A test without a trip fails only where the current was held to the limit; stopped before that, it is undetermined, never a pass and never a fail.",
        "The rates above are worst cases for a time exactly at the acceptance limit, under a normal state of knowledge. The probability of conformity beside each result is for the time that was measured.",
        "Repeatability of the whole test from replicates: not known to this exhibit.",
        "Rate of false acceptance in the field: unknown.",
      ],
    },
  ];
}

function usedRows(data: ExhibitData): { limitSet: string; row: LimitRow }[] {
  const rows = new Map<string, { limitSet: string; row: LimitRow }>();
  for (const { opened } of shotsOf(data))
    rows.set(`${opened.limitSetHash} ${opened.row.id}`, { limitSet: opened.limitSet, row: opened.row });
  return [...rows.values()];
}

function standingOf(data: ExhibitData, id: string, hash: string): string {
  const confirmed = data.entries.flatMap((entry) => {
    if (entry.kind !== "limit-set-confirmed") return [];
    const body = entry.body as {
      limitSet: string;
      limitSetHash: string;
      by: string;
      on: string;
      document: string;
      rows: string[];
    };
    return body.limitSet === id && body.limitSetHash === hash
      ? [
          `rows ${body.rows.join(", ")} confirmed by ${body.by} on ${body.on} against ${body.document} (entry ${entry.sequence})`,
        ]
      : [];
  });
  const used = shotsOf(data).filter(({ opened }) => opened.limitSetHash === hash);
  const unconfirmed = used.filter(({ opened }) => !opened.confirmed).length;
  return [
    confirmed.length === 0
      ? "UNCONFIRMED: no lab has compared it with its own copy of the document."
      : `Standing: ${confirmed.join("; ")}.`,
    ...(unconfirmed > 0 && confirmed.length > 0
      ? [`${unconfirmed} of ${used.length} tests were made by rows that were not confirmed at the time.`]
      : []),
  ].join(" ");
}

function choiceBlocks(data: ExhibitData): Block[] {
  const choices = [...new Set(shotsOf(data).flatMap(({ opened }) => opened.choice?.words ?? []))];
  return choices.length === 0 ? [] : [{ kind: "list", items: choices }];
}

function ruleBlocks(rule: DecisionRule): Block[] {
  const r = rule.kind === "simple" ? 0 : rule.r;
  // At the acceptance limit the time lies r U = 2 r u below the tolerance limit.
  const accept = conformance({ y: -2 * r, u: 1, T_L: Number.NEGATIVE_INFINITY, T_U: 0 });
  const facts: [string, string][] = [
    ["Rule", ruleWords(rule, null, "s")],
    [
      "Worst false acceptance",
      `${percentOf(accept.p_nonconforming)}: a time at the acceptance limit, for one limit and U = 2u (ILAC-G8:09/2019, JCGM 106:2012 clause 8)`,
    ],
    ["Worst false rejection", `${percentOf(accept.p_c)}: a time just beyond the acceptance limit`],
  ];
  return [{ kind: "facts", title: "Rule as locked before the current was switched on", rows: facts }];
}

/** The rows of limit sets that verdicts were made by. */
export function limitRows(data: ExhibitData): DataTable {
  return {
    name: "limits",
    title: "Limit rows used",
    header: [
      "limit_set",
      "row",
      "test",
      "multiple",
      "requirement",
      "document",
      "edition",
      "clause",
      "standing",
      "doubtful",
      "note",
    ],
    rows: usedRows(data).map(({ limitSet, row }) => [
      limitSet,
      row.id,
      row.test,
      row.multiple,
      requirementWords(row.requirement),
      row.source.document,
      row.source.edition,
      row.source.clause,
      row.source.standing,
      row.source.doubtful,
      row.source.note,
    ]),
  };
}
