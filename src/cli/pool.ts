import type { Command } from "commander";
import { type PoolView, poolGroupings, poolModels } from "../contract/studies.ts";
import { formatPercent } from "../core/units/format-percent.ts";
import { forestFigure } from "../exhibit/forest-figure.ts";
import { funnelFigure } from "../exhibit/funnel-figure.ts";
import { InputError } from "../lab/input-error.ts";
import { openLabForReading } from "../lab/open-lab.ts";
import { pool, studiesOfFile } from "../lab/pool-request.ts";
import { readPoolQuestion } from "../lab/pool-studies.ts";
import { printResult, runCommand, textTable } from "./output.ts";
import { writeFigure } from "./write-figure.ts";

interface Options {
  data?: string;
  studies?: string;
  model: string;
  withLab: boolean;
  criterion?: string;
  multiple?: string;
  mixedCriteria: boolean;
  by: string;
  confidence: string;
  figure?: string;
  funnel?: string;
  json: boolean;
}

/** `asfound pool`: one rate over several studies, with or without the lab's own. */
export function addPool(program: Command): void {
  program
    .command("pool")
    .description("pool studies of one criterion: rate, interval, spread between studies")
    .option("--data <dir>", "data directory whose recorded studies are pooled")
    .option("--studies <file>", "CSV file whose studies are pooled, without recording them")
    .option("--model <model>", poolModels.join(" | "), "glmm")
    .option("--with-lab", "add the lab's own rate, marked", false)
    .option("--criterion <text>", "only studies of this criterion")
    .option("--multiple <m>", "only studies at this multiple of rated current")
    .option("--mixed-criteria", "pool studies of different criteria, marked", false)
    .option("--by <grouping>", `pool groups apart too: ${poolGroupings.join(" | ")}`, "none")
    .option("--confidence <c>", "two-sided confidence level", "0.95")
    .option("--figure <file.svg>", "write a forest plot")
    .option("--funnel <file.svg>", "write a funnel plot")
    .option("--json", "print one JSON document", false)
    .action((options: Options) =>
      runCommand(options.json, async () => {
        if (options.data === undefined && options.studies === undefined)
          throw new InputError("found neither --data nor --studies; accepted: one of them, or both");
        const question = readPoolQuestion({
          model: options.model,
          withLab: String(options.withLab),
          mixedCriteria: String(options.mixedCriteria),
          by: options.by,
          confidence: options.confidence,
          ...(options.criterion === undefined ? {} : { criterion: options.criterion }),
          ...(options.multiple === undefined ? {} : { multiple: options.multiple }),
        });
        const file = options.studies === undefined ? [] : studiesOfFile(options.studies);
        const lab = options.data === undefined ? null : openLabForReading(options.data);
        try {
          const view = pool(lab, file, question);
          if (options.figure !== undefined) writeFigure(options.figure, forestFigure(view.forest));
          if (options.funnel !== undefined) writeFigure(options.funnel, funnelFigure(view.funnel));
          printResult(options.json, view, () => poolText(view));
        } finally {
          lab?.store.close();
        }
      }),
    );
}

function poolText(view: PoolView): string {
  const rate = (value: number | null) => (value === null ? "not estimable" : formatPercent(value));
  const level = formatPercent(view.confidence, 4);
  return [
    `Model: ${view.modelWords}`,
    `Criterion: ${view.criterion}`,
    "",
    textTable([
      ["study", "failed", "of", "rate", `exact ${level}`, "weight", "pooled without it", ""],
      ...view.rows.map((row) => [
        ...[row.label, String(row.k), String(row.n), rate(row.estimate)],
        `${rate(row.lower)} to ${rate(row.upper)}`,
        ...[row.weight === null ? "" : formatPercent(row.weight), rate(row.without)],
        row.marked ? "other criterion" : "",
      ]),
    ]),
    "",
    view.sentence,
    ...(view.hartungKnapp === null
      ? []
      : [`Hartung-Knapp interval: ${rate(view.hartungKnapp.lower)} to ${rate(view.hartungKnapp.upper)}.`]),
    heterogeneity(view),
    ...(view.smallStudy === null ? ["Small-study test: not estimable."] : [view.smallStudy.words]),
    ...(view.groups === null
      ? []
      : [
          view.groups.words,
          ...view.groups.pooled.map(
            (one) =>
              `  ${one.label} (${one.studies}): ${rate(one.estimate)} (${rate(one.lower)} to ${rate(one.upper)})`,
          ),
        ]),
    ...view.notes,
    view.caution,
  ].join("\n");
}

function heterogeneity({ q, qDegreesOfFreedom, qP, i2, tau2, tau2Bounds, correlation }: PoolView): string {
  const parts = [
    ...(tau2 === null ? [] : [`tau² ${tau2.toPrecision(4)}`]),
    ...(tau2Bounds === null
      ? []
      : [`(${tau2Bounds.lower.toPrecision(3)} to ${tau2Bounds.upper?.toPrecision(3) ?? "not estimable"})`]),
    ...(correlation === null ? [] : [`correlation within a study ${correlation.toPrecision(4)}`]),
    ...(q === null || qP === null
      ? []
      : [`Q ${q.toFixed(2)} on ${qDegreesOfFreedom}, p = ${Number(qP.toPrecision(3))}`]),
    ...(i2 === null ? [] : [`I² ${i2.toFixed(1)} %`]),
  ];
  return parts.length === 0
    ? "Spread between studies: not estimable."
    : `Spread between studies: ${parts.join(", ")}.`;
}
