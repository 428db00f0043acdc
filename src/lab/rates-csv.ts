import type { RatesView } from "../contract/rates.ts";

const cell = (value: string | number | null): string => {
  const text = value === null ? "" : String(value);
  // Text that begins like a formula is kept from being run as one by a spreadsheet.
  const safe = typeof value === "string" && /^[=+\-@\t\r]/.test(text) ? `'${text}` : text;
  return /[",\n\r]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
};

/**
 * The rows of a rate as CSV (RFC 4180): a column for each attribute, then counts, bounds and the criterion. What cannot be
 * estimated is an empty field.
 */
export function ratesCsv({ question, rows, criterion, caution }: RatesView): string {
  const header = [
    ...question.by,
    ...[
      "failed",
      "decided",
      "estimate",
      "confidence",
      "exact_lower",
      "exact_upper",
      "wilson_lower",
      "wilson_upper",
    ],
    ...[
      "jeffreys_lower",
      "jeffreys_upper",
      "robust_lower",
      "robust_upper",
      "undetermined",
      "excluded",
      "lowest",
    ],
    ...["highest", "clusters", "design_effect", "effective_n", "criterion", "caution"],
  ];
  const lines = rows.map(({ intervals, ...row }) => [
    ...question.by.map((name) => row.stratum[name] ?? ""),
    ...[row.k, row.n, row.estimate, question.confidence],
    ...[intervals.clopperPearson, intervals.wilson, intervals.jeffreys, intervals.clusterRobust].flatMap(
      (one) => [one?.lower ?? null, one?.upper ?? null],
    ),
    ...[row.undetermined, row.excluded, row.lowest, row.highest, row.clusters, row.designEffect],
    ...[row.effectiveSampleSize, criterion, caution],
  ]);
  return [header, ...lines].map((line) => `${line.map(cell).join(",")}\r\n`).join("");
}
