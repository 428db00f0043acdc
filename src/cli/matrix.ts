import type { Command } from "commander";
import type { MatrixCell, MatrixView } from "../contract/programme.ts";
import { formatMultiple } from "../core/units/format-multiple.ts";
import { formatSeconds } from "../core/units/format-seconds.ts";
import { resultMatrixView } from "../lab/result-matrix-view.ts";
import { printResult, runCommand, textTable } from "./output.ts";
import { readingFrom } from "./with-lab.ts";

/** `asfound matrix`: the results of one specimen, multiples down, loadings across. */
export function addMatrix(program: Command): void {
  program
    .command("matrix")
    .description("the results of one specimen: multiples down, loadings across, as found and exercised apart")
    .requiredOption("--data <dir>", "data directory")
    .requiredOption("--specimen <id>", "identifier of the specimen")
    .option("--json", "print one JSON document", false)
    .action((options: { data: string; specimen: string; json: boolean }) =>
      runCommand(options.json, () => {
        readingFrom(options.data, (lab) => {
          const view = resultMatrixView(lab, options.specimen);
          printResult(options.json, view, () => matrixWords(view));
        });
      }),
    );
}

function marginWords({ marginSeconds }: MatrixCell): string {
  if (marginSeconds === null) return "";
  const size = formatSeconds(Math.abs(marginSeconds));
  return `, margin ${marginSeconds < 0 ? "−" : ""}${size}`;
}

function cellWords(cell: MatrixCell | null): string {
  if (cell === null) return "";
  const limit = cell.limitSeconds === null ? "" : `, limit ${formatSeconds(cell.limitSeconds)}`;
  const before = cell.earlier.map((one) => `${one.glyph} ${one.timeWords} [${one.shot}]`).join(", ");
  const earlier = before === "" ? "" : `; before: ${before}`;
  return `${cell.glyph} ${cell.word} ${cell.timeWords}${limit}${marginWords(cell)} [${cell.shot}]${earlier}`;
}

function matrixWords(view: MatrixView): string {
  if (view.parts.length === 0) return `${view.label} (${view.specimen}): no shot yet.`;
  return [
    `${view.label} (${view.specimen})`,
    ...view.parts.flatMap((part) => [
      "",
      part.state === "as-found" ? "As found" : "Exercised",
      textTable([
        ["percent", ...view.loadings],
        ...part.cells.map((row, i) => [formatMultiple(view.multiples[i] ?? 0), ...row.map(cellWords)]),
      ]),
    ]),
  ].join("\n");
}
