import type { Command } from "commander";
import type { ConfirmedLimitSetView } from "../contract/confirmation.ts";
import type { LimitSet } from "../core/limits/limit-set.ts";
import { requirementWords } from "../core/limits/requirement-words.ts";
import { limitSetView } from "../lab/confirm-limit-set.ts";
import { loadLimitLibrary } from "../lab/limit-library.ts";
import { openLabForReading } from "../lab/open-lab.ts";
import { printResult, runCommand, textTable } from "./output.ts";

/** `asfound limits`: every limit set with every row, its source and how well it is known. */
export function addLimits(program: Command): void {
  program
    .command("limits")
    .description("show every limit set with every row, its source and how well it is known")
    .option("--set <name>", "only this set")
    .option("--data <dir>", "data directory: also say what this lab has confirmed")
    .option("--json", "print one JSON document", false)
    .action((options: { set?: string; data?: string; json: boolean }) =>
      runCommand(options.json, () => {
        const lab = options.data === undefined ? null : openLabForReading(options.data);
        try {
          const library = lab?.limits ?? loadLimitLibrary();
          const sets = options.set === undefined ? library.all() : [library.get(options.set)];
          const views = lab === null ? null : sets.map((set) => limitSetView(lab, set));
          printResult(
            options.json,
            views === null ? { sets } : { sets, confirmations: views.map(withoutSet) },
            () => sets.map((set, at) => setWords(set, views?.[at] ?? null)).join("\n\n"),
          );
        } finally {
          lab?.store.close();
        }
      }),
    );
}

const withoutSet = ({ set, ...confirmed }: ConfirmedLimitSetView) => ({ limitSet: set.id, ...confirmed });

function setWords(set: LimitSet, view: ConfirmedLimitSetView | null): string {
  return [
    `${set.id}: ${set.title}`,
    set.about,
    textTable([
      [
        "row",
        "rated A over",
        "to",
        "percent",
        "requirement",
        "loading",
        "standing",
        ...(view ? ["confirmed"] : []),
      ],
      ...set.rows.map((row) => [
        row.id,
        String(row.ratedOverAmps),
        row.ratedToAmps === null ? "–" : String(row.ratedToAmps),
        String(Math.round(row.multiple * 100)),
        requirementWords(row.requirement),
        row.loading,
        `${row.source.standing}${row.source.doubtful ? ", doubtful" : ""}`,
        ...(view ? [view.confirmedRows.includes(row.id) ? "confirmed" : "unconfirmed"] : []),
      ]),
    ]),
    ...(view?.confirmations ?? []).map(
      (one) =>
        `  ${one.holds ? "Confirmed" : "Confirmed, but the set has changed since,"} by ${one.by} on ${one.on} against ${one.document}, ${one.edition}: ${one.rows.join(", ")}${one.note === "" ? "" : ` (${one.note})`}`,
    ),
  ].join("\n");
}
