import { useState } from "preact/hooks";
import type { LimitSetView, ProgrammeStep, SpecimenView } from "../../src/contract/http.ts";
import type { MatrixView, PlanView, SpecimenFitView } from "../../src/contract/programme.ts";
import { HandleForm } from "../bench/handle-form.tsx";
import { markingWords } from "../bench/specimen-chooser.tsx";
import { AmendedMark } from "../custody/amended-mark.tsx";
import { Figure } from "../figures/figure.tsx";
import { ProblemNote } from "../frame/problem-note.tsx";
import { routeTo } from "../routing.ts";
import { addresses } from "../server/resources.ts";
import { useResource } from "../server/use-resource.ts";
import { DemoMark } from "../words/result-badge.tsx";
import { operationWords } from "../words/state-words.ts";
import { JamMark } from "./jam-mark.tsx";
import { ModelFacts } from "./model-facts.tsx";
import { OriginFacts } from "./origin-facts.tsx";
import { PlanPanel } from "./plan-panel.tsx";
import { ResultMatrix } from "./result-matrix.tsx";

/** One specimen: what it is, where it came from, its state, all results, its time-current figure and model, its programme. */
export function SpecimenPage({ id }: { id: string }) {
  const specimen = useResource<SpecimenView>(addresses.specimen(id));
  const matrix = useResource<MatrixView>(addresses.matrix(id));
  const fit = useResource<SpecimenFitView>(addresses.fit(id));
  const plan = useResource<PlanView>(addresses.plan(id));
  const view = specimen.value;
  return (
    <article class="record shot" aria-labelledby="specimen-title">
      <nav aria-label="Back" class="shot-back">
        <a class="open" href={routeTo("specimens")}>
          All specimens
        </a>
        <a class="open" href={routeTo("bench", id)}>
          {view?.details.label ?? id} on the bench
        </a>
        <a class="open" href={routeTo("custody", "specimen", id)}>
          Custody
        </a>
        <a class="open" href={routeTo("exhibits", "specimen", id)}>
          Exhibit or package
        </a>
      </nav>
      <ProblemNote problem={specimen.problem} />
      {specimen.loading && <p class="empty">Reading the specimen.</p>}
      {view !== null && (
        <>
          <header class="shot-head">
            <h1 id="specimen-title">
              {view.details.label} {view.details.demo && <DemoMark />}
            </h1>
            <p>
              {markingWords(view)}, <strong>{operationWords(view.state)}</strong>. Specimen {view.id}
              {view.details.job === undefined ? "" : `. Job: ${view.details.job}`}.{" "}
              <AmendedMark
                count={view.amendments}
                name={view.details.label}
                href={routeTo("custody", "specimen", id, "amendments")}
              />
            </p>
            <JamMark words={plan.value?.jamSuspected ?? null} />
          </header>
          <section class="panel" aria-labelledby="matrix-title">
            <h2 id="matrix-title">Results</h2>
            <ProblemNote problem={matrix.problem} />
            {matrix.value !== null && <ResultMatrix view={matrix.value} />}
          </section>
          <FigurePanel specimen={view} />
          <section class="panel" aria-labelledby="model-title">
            <h2 id="model-title">Trip model</h2>
            <ProblemNote problem={fit.problem} />
            {fit.value !== null && <ModelFacts view={fit.value} />}
          </section>
          <PlanPanel specimen={view} plan={plan} />
          <section class="panel" aria-labelledby="origin-title">
            <div class="panel-head">
              <h2 id="origin-title">Identity and origin</h2>
              <HandleForm specimen={view} onMoved={specimen.reload} />
            </div>
            <OriginFacts specimen={view} />
          </section>
        </>
      )}
    </article>
  );
}

/** The time-current figure of the specimen, in multiples of its rating or in amperes, with the limits of a chosen set. */
function FigurePanel({ specimen }: { specimen: SpecimenView }) {
  const [axis, setAxis] = useState<"multiple" | "amps">("multiple");
  const [wished, setWished] = useState<string | null>(null);
  const limitSets = useResource<LimitSetView[]>(addresses.limitSets);
  const programme = useResource<ProgrammeStep[]>(addresses.programme(specimen.id, wished));
  const chosen = wished ?? programme.value?.[0]?.point.limitSet ?? "";
  return (
    <section class="panel" aria-labelledby="figure-title">
      <div class="panel-head">
        <h2 id="figure-title">Time-current</h2>
        <label class="set-choice">
          <span>Limits</span>
          <select value={chosen} onChange={(event) => setWished(event.currentTarget.value)}>
            {(limitSets.value ?? []).map(({ set, confirmed }) => (
              <option key={set.id} value={set.id}>
                {set.title}
                {confirmed ? "" : " (not confirmed)"}
              </option>
            ))}
          </select>
        </label>
        <fieldset class="choices" aria-label="Current axis">
          <button type="button" aria-pressed={axis === "multiple"} onClick={() => setAxis("multiple")}>
            Multiples
          </button>
          <button type="button" aria-pressed={axis === "amps"} onClick={() => setAxis("amps")}>
            Amperes
          </button>
        </fieldset>
      </div>
      <Figure
        address={addresses.timeCurrentFigure(specimen.id, wished, axis)}
        name={`${specimen.details.label}-time-current`}
        words={`Time-current figure of ${specimen.details.label}, both axes logarithmic: limits, bands, every test with its uncertainty, tests that held as open circles with an arrow, and the fitted trip model with its bounds. The numbers stand in the tables of results and of the trip model.`}
      />
    </section>
  );
}
