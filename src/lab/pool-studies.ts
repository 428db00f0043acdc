import type { StudyCounts } from "../contract/ledger-entries.ts";
import {
  type PoolComparison,
  type PoolModel,
  type PoolQuery,
  type PoolRow,
  type PoolView,
  poolGroupings,
  poolModels,
} from "../contract/studies.ts";
import { clopperPearson } from "../core/stats/clopper-pearson.ts";
import { eggerRegression } from "../core/stats/egger-regression.ts";
import { poolableLogits } from "../core/stats/logit-effects.ts";
import { twoSidedNormalQuantile } from "../core/stats/normal-quantile.ts";
import { poolEffects } from "../core/stats/pool-effects.ts";
import { formatPercent } from "../core/units/format-percent.ts";
import { decimalNumber } from "../exchange/read-csv-table.ts";
import { rateCaution } from "./cautions.ts";
import { InputError } from "./input-error.ts";
import { chooseStudies, criterionOf, sameCriterion } from "./pool-criteria.ts";
import { modelWords, type PoolFit, poolFit, ratesWithoutEach } from "./pool-fit.ts";
import { poolGroups } from "./pool-groups.ts";
import { readChoice, readConfidence } from "./rates-question.ts";

/** How studies are to be pooled. */
export interface PoolQuestion {
  model: PoolModel;
  withLab: boolean;
  criterion: string | null;
  multiple: number | null;
  mixed: boolean;
  by: (typeof poolGroupings)[number];
  confidence: number;
}

const yes = (field: string, text: string | undefined) =>
  readChoice(field, text, ["false", "true"] as const) === "true";

/** How to pool, from the words of a command or a request. @throws InputError naming the field and what is accepted */
export function readPoolQuestion(query: PoolQuery): PoolQuestion {
  const multiple =
    query.multiple === undefined || query.multiple === "" ? null : decimalNumber(query.multiple);
  if (multiple !== null && !(multiple > 0))
    throw new InputError(
      `multiple: found "${query.multiple}"; accepted is a multiple of rated current above 0`,
    );
  return {
    model: readChoice("model", query.model, poolModels),
    withLab: yes("withLab", query.withLab),
    criterion: query.criterion === undefined || query.criterion === "" ? null : query.criterion,
    multiple,
    mixed: yes("mixedCriteria", query.mixedCriteria),
    by: readChoice("by", query.by, poolGroupings),
    confidence: readConfidence(query.confidence),
  };
}

/** From how many studies on the likelihood models are not fitted again without each study. */
const mostRefits = 40;

/**
 * Pools studies, with the lab's own counts where given: those are marked, since their criterion is the lab's.
 *
 * @throws InputError where there is nothing to pool, or criteria differ and mixing was not asked for
 */
export function poolView(
  recorded: readonly StudyCounts[],
  own: StudyCounts | null,
  question: PoolQuestion,
): PoolView {
  const chosen = chooseStudies(recorded, question);
  const studies = own === null ? chosen : [...chosen, own];
  const first = chosen[0] as StudyCounts;
  const counts = studies.map(({ failed, tested }) => ({ k: failed, n: tested }));
  const { model, confidence } = question;
  const fit = poolFit(counts, model, confidence);
  const effects = poolableLogits(counts);
  const spread = poolEffects(effects, "EE", confidence);
  const refits = model === "glmm" || model === "beta-binomial" ? studies.length <= mostRefits : true;
  const without = refits ? ratesWithoutEach(counts, model, confidence) : studies.map(() => null);
  const rows = studies.map((study, at) =>
    rowOf(
      study,
      { marked: !sameCriterion(study, first), weight: fit.weights[at] ?? null, without: without[at] ?? null },
      confidence,
    ),
  );
  const egger = fit.pooled === null ? null : eggerRegression(effects);
  const marked = rows.filter((row) => row.marked).length;
  const criterion = criterionOf(first);
  const notes = [
    ...(marked === 0
      ? []
      : [
          `Marked (${marked}): the criterion differs from "${criterion}". A rate pooled over criteria has no criterion of its own.`,
        ]),
    ...fit.notes,
    ...(refits ? [] : [`Leave-one-out was not computed by this model for more than ${mostRefits} studies.`]),
    "Q, I² and H² are of logits, with one half added where a study has no failures or no passes.",
    ...selectionNotes(studies),
  ];
  const groups = question.by === "none" ? null : poolGroups(studies, question.by, model, confidence);
  return {
    model,
    modelWords: modelWords[model],
    criterion,
    caution: rateCaution,
    confidence,
    rows,
    pooled: fit.pooled,
    notEstimable: fit.notEstimable,
    prediction: fit.prediction,
    hartungKnapp: fit.hartungKnapp,
    tau2: fit.tau2,
    tau2Bounds: fit.tau2Bounds,
    correlation: fit.correlation,
    marginalMean: fit.marginalMean,
    q: studies.length > 1 ? spread.q : null,
    qDegreesOfFreedom: studies.length > 1 ? spread.qDegreesOfFreedom : null,
    qP: spread.qP,
    i2: spread.i2,
    h2: spread.h2,
    smallStudy:
      egger === null
        ? null
        : {
            bias: egger.bias,
            p: egger.p,
            words: `Small-study test (regression of logits on their standard errors): slope ${egger.bias.toPrecision(3)}, p = ${Number(egger.p.toPrecision(3))}. With rates this test rejects too often, since logit and error depend on each other.`,
          },
    groups,
    notes,
    sentence: sentenceOf(fit, rows, criterion, question, marked),
    forest: {
      title: "Failure rates of studies",
      criterion,
      rows: rows.map(({ label, k, n, estimate, lower, upper, weight, marked }) => ({
        ...{ label, k, n, estimate, lower, upper, weight },
        ...(marked ? { marked } : {}),
      })),
      pooled: fit.pooled === null ? null : { label: `pooled, ${model}`, ...fit.pooled },
      prediction: fit.prediction,
      notes: [...(fit.notEstimable === null ? [] : [fit.notEstimable]), ...notes, rateCaution],
    },
    funnel: {
      title: "Logits of studies against their standard errors",
      criterion,
      points: effects.map(({ estimate, variance }, at) => ({
        label: rows[at]?.label ?? "",
        logit: estimate,
        standardError: Math.sqrt(variance),
        ...(rows[at]?.marked === true ? { marked: true } : {}),
      })),
      centre: fit.onLogits?.estimate ?? null,
      z: twoSidedNormalQuantile(confidence),
      notes: [...notes, rateCaution],
    },
  };
}

/** The pooled rate by every model, side by side. @throws InputError as {@link poolView} */
export function compareModels(
  recorded: readonly StudyCounts[],
  own: StudyCounts | null,
  question: PoolQuestion,
): PoolComparison {
  const chosen = chooseStudies(recorded, question);
  const counts = [...chosen, ...(own === null ? [] : [own])].map(({ failed, tested }) => ({
    k: failed,
    n: tested,
  }));
  return poolModels.map((model) => {
    const { pooled, tau2 } = poolFit(counts, model, question.confidence);
    return { model, pooled, tau2 };
  });
}

function rowOf(
  study: StudyCounts,
  { marked, weight, without }: Pick<PoolRow, "marked" | "weight" | "without">,
  confidence: number,
): PoolRow {
  const { failed: k, tested: n, criterion, multiple, selection, citation } = study;
  return {
    label: `${study.study} ${study.year}${study.stratum === "all" ? "" : `, ${study.stratum}`}`,
    k,
    n,
    estimate: k / n,
    ...clopperPearson(k, n, confidence),
    ...{ weight, marked, criterion, multiple, selection, citation, without },
  };
}

function selectionNotes(studies: readonly StudyCounts[]): string[] {
  const suspicious = studies.filter(({ selection }) => selection === "on suspicion").length;
  const unknown = studies.filter(({ selection }) => selection === "unknown").length;
  return [
    ...(suspicious > 0
      ? [`Specimens chosen on suspicion in ${suspicious} of ${studies.length} studies.`]
      : []),
    ...(unknown > 0
      ? [`How specimens were chosen is not known in ${unknown} of ${studies.length} studies.`]
      : []),
  ];
}

function sentenceOf(
  fit: PoolFit,
  rows: readonly PoolRow[],
  criterion: string,
  { model, confidence }: PoolQuestion,
  marked: number,
): string {
  const failed = rows.reduce((sum, { k }) => sum + k, 0);
  const tested = rows.reduce((sum, { n }) => sum + n, 0);
  const counts = `${rows.length} ${rows.length === 1 ? "study" : "studies"}, ${failed} failures of ${tested} specimens`;
  const mixing = marked === 0 ? "" : ` Criteria are mixed: ${marked} of the studies have another one.`;
  if (fit.pooled === null)
    return `${counts}. ${fit.notEstimable ?? "Not estimable."} Criterion: ${criterion}.${mixing}`;
  const { estimate, lower, upper } = fit.pooled;
  const level = formatPercent(confidence, 4);
  const prediction =
    fit.prediction === null
      ? ""
      : ` A new study's rate is expected from ${formatPercent(fit.prediction.lower)} to ${formatPercent(fit.prediction.upper)}.`;
  return `${counts}; pooled rate ${formatPercent(estimate)} (${level} interval ${formatPercent(lower)} to ${formatPercent(upper)}; ${modelWords[model]}).${prediction} Criterion: ${criterion}.${mixing} ${rateCaution}`;
}
