import { useState } from "preact/hooks";
import type { PoolModel, PoolView, StudyView } from "../../src/contract/studies.ts";
import { formatMultiple } from "../../src/core/units/format-multiple.ts";
import { Figure } from "../figures/figure.tsx";
import { ChoiceField, TextField, TickField } from "../forms/field.tsx";
import { CopySentence } from "../frame/copy-sentence.tsx";
import { ProblemNote } from "../frame/problem-note.tsx";
import { problemOfField } from "../server/request.ts";
import { addresses, query } from "../server/resources.ts";
import { useResource } from "../server/use-resource.ts";
import { useSettled } from "../server/use-settled.ts";
import { CompareTable } from "./compare-table.tsx";
import { modelNames } from "./model-names.ts";
import { PoolFacts } from "./pool-facts.tsx";
import { PoolRows } from "./pool-rows.tsx";

const groupings = [
  ["none", "not apart"],
  ["stratum", "by stratum"],
  ["selection", "by how they were chosen"],
  ["study", "by study"],
  ["criterion", "by criterion"],
] as const;

/** What studies counted as a failure, and at which current: the most frequent first. */
function criteriaOf(studies: readonly StudyView[]) {
  const found = new Map<
    string,
    { key: string; criterion: string; multiple: number | null; words: string; count: number }
  >();
  for (const { counts } of studies) {
    const { criterion, multiple } = counts;
    const key = JSON.stringify([criterion, multiple]);
    const count = (found.get(key)?.count ?? 0) + 1;
    const at = multiple === null ? "" : `, at ${formatMultiple(multiple)}`;
    found.set(key, { key, criterion, multiple, words: `${criterion}${at}`, count });
  }
  return [...found.values()].sort((a, b) => b.count - a.count);
}

/** Pools the recorded studies, with or without the lab's own rate; studies of other criteria only where asked, and marked. */
export function PoolPanel({ studies }: { studies: readonly StudyView[] }) {
  const [model, setModel] = useState<PoolModel>("glmm");
  const [wished, setWished] = useState<string | null>(null);
  const [by, setBy] = useState("none");
  const [confidence, setConfidence] = useState("0.95");
  const [withLab, setWithLab] = useState(false);
  const [mixed, setMixed] = useState(false);
  const [picture, setPicture] = useState<"forest" | "funnel">("forest");
  const criteria = criteriaOf(studies);
  const criterion =
    wished === "" ? null : (criteria.find(({ key }) => key === wished) ?? criteria[0] ?? null);
  const asked = useSettled(
    query({
      model,
      criterion: criterion?.criterion ?? null,
      multiple: criterion?.multiple == null ? null : String(criterion.multiple),
      by: by === "none" ? null : by,
      confidence,
      withLab: withLab ? "true" : null,
      mixedCriteria: mixed ? "true" : null,
    }),
  );
  const anything = studies.length > 0 || withLab;
  const pool = useResource<PoolView>(anything ? addresses.pool(asked) : null);
  const view = pool.value;
  return (
    <section class="panel" aria-labelledby="pool-title">
      <h2 id="pool-title">Pooled</h2>
      <form class="form" aria-label="How they are pooled" onSubmit={(event) => event.preventDefault()}>
        <div class="fields fields-many">
          <ChoiceField
            id="pool-model"
            label="Model"
            wide="double"
            value={model}
            onChange={(value) => setModel(value as PoolModel)}
            choices={Object.entries(modelNames)}
          />
          <ChoiceField
            id="pool-criterion"
            label="Only studies of the criterion"
            wide="double"
            value={criterion?.key ?? ""}
            onChange={setWished}
            choices={[
              ...criteria.map(({ key, words }) => [key, words] as const),
              ["", "any: only one is pooled unless you ask for all"] as const,
            ]}
            problem={problemOfField(pool.problem, "criterion")}
          />
          <ChoiceField id="pool-by" label="Pooled apart" value={by} onChange={setBy} choices={groupings} />
          <TextField
            id="pool-confidence"
            label="Confidence, between 0 and 1"
            kind="number"
            value={confidence}
            onChange={setConfidence}
            problem={problemOfField(pool.problem, "confidence")}
          />
        </div>
        <TickField checked={withLab} onChange={setWithLab}>
          Add this lab's own as-found rate
        </TickField>
        <TickField checked={mixed} onChange={setMixed}>
          Pool studies of different criteria all the same; they are marked
        </TickField>
      </form>
      <ProblemNote problem={pool.problem} />
      {view !== null && (
        <>
          <p class="criterion">{view.criterion}</p>
          <p>{view.modelWords}</p>
          {view.notEstimable !== null && <p class="problem">{view.notEstimable}</p>}
          <PoolFacts view={view} />
          <CopySentence sentence={view.sentence} />
          {view.notes.map((note) => (
            <p key={note} class="hint">
              {note}
            </p>
          ))}
          <div class="panel-head">
            <h3>Picture</h3>
            <fieldset class="choices" aria-label="Picture">
              <button type="button" aria-pressed={picture === "forest"} onClick={() => setPicture("forest")}>
                Forest
              </button>
              <button type="button" aria-pressed={picture === "funnel"} onClick={() => setPicture("funnel")}>
                Funnel
              </button>
            </fieldset>
          </div>
          <Figure
            address={addresses.poolFigure(picture, asked)}
            name={picture}
            words={`${picture === "forest" ? "Forest plot" : "Funnel"} of ${view.rows.length} studies. ${view.sentence} The numbers stand in the table below.`}
          />
          <PoolRows view={view} />
          <CompareTable asked={asked} chosen={model} />
        </>
      )}
    </section>
  );
}
