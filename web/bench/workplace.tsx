import type { ComponentChildren } from "preact";
import type { LimitSetView, ProgrammeStep, SpecimenView } from "../../src/contract/http.ts";
import { ProblemNote } from "../frame/problem-note.tsx";
import { live } from "../live/live.ts";
import { useStore } from "../live/store.ts";
import { routeTo } from "../routing.ts";
import type { Resource } from "../server/use-resource.ts";
import { DemoMark } from "../words/result-badge.tsx";
import { operationWords } from "../words/state-words.ts";
import { HandleForm } from "./handle-form.tsx";
import { ProgrammeSteps } from "./programme-steps.tsx";
import { ResultActions, ResultPanel } from "./result-panel.tsx";
import { RunPanel } from "./run-panel.tsx";
import { markingWords } from "./specimen-chooser.tsx";
import { StepStart } from "./step-start.tsx";
import { StopButton, StopNote } from "./stop-button.tsx";

/** The middle of the bench: the chosen specimen's programme, the test under way, or its end; and always the stop. */
export function Workplace({
  form,
  specimen,
  programme,
  locked,
  limitSets,
  limitSet,
  onLimitSet,
  step,
  onStep,
  onMoved,
}: {
  /** A form that takes the place of the programme, but never that of a test under way. */
  form: ComponentChildren;
  specimen: SpecimenView | null;
  programme: Resource<ProgrammeStep[]>;
  /** What was locked for the specimen. */
  locked: ComponentChildren;
  limitSets: readonly LimitSetView[];
  limitSet: string | null;
  onLimitSet: (id: string) => void;
  step: ProgrammeStep | null;
  onStep: (step: ProgrammeStep) => void;
  onMoved: () => void;
}) {
  const shot = useStore(live.shot);
  const closed = useStore(live.closed);
  const steps = programme.value ?? [];
  const ended =
    closed !== null && specimen !== null && closed.shot.specimen.id === specimen.id ? closed : null;

  return (
    <section class="panel workplace" aria-label="Test">
      <div class="workplace-body">
        {shot !== null ? (
          <RunPanel shot={shot} />
        ) : form ? (
          form
        ) : ended !== null ? (
          <ResultPanel ended={ended} />
        ) : specimen === null ? (
          <p class="empty">Choose a specimen on the left, or receive one.</p>
        ) : (
          <>
            <div class="specimen-head">
              <h2>
                {specimen.details.label} {specimen.details.demo && <DemoMark />}
              </h2>
              {specimen.details.job !== undefined && <p class="hint">{specimen.details.job}</p>}
              <a class="open specimen-link" href={routeTo("specimens", specimen.id)}>
                Its own page
              </a>
              <p class="specimen-marking">
                {markingWords(specimen)}, <strong>{operationWords(specimen.state)}</strong>
              </p>
            </div>
            {locked}
            <div class="specimen-choices">
              <label class="set-choice">
                <span>Limits</span>
                <select value={limitSet ?? ""} onChange={(event) => onLimitSet(event.currentTarget.value)}>
                  {limitSet === null && <option value="">choosing</option>}
                  {limitSets.map(({ set, confirmed }) => (
                    <option key={set.id} value={set.id}>
                      {set.title}
                      {confirmed ? "" : " (not confirmed)"}
                    </option>
                  ))}
                </select>
              </label>
              <HandleForm specimen={specimen} onMoved={onMoved} />
            </div>
            <ProblemNote problem={programme.problem} />
            {programme.value !== null && steps.length === 0 && (
              <p class="empty">This limit set has no test for such a breaker. Choose another one.</p>
            )}
            <ProgrammeSteps steps={steps} chosen={step} onChoose={onStep} />
          </>
        )}
      </div>
      {shot === null && !form && ended !== null && (
        <ResultActions ended={ended} onBack={() => live.closed.set(null)} />
      )}
      {shot === null && !form && ended === null && specimen !== null && step !== null && (
        <StepStart specimen={specimen} step={step} />
      )}
      <div class="workplace-stop">
        <StopButton large takesFocus />
        <StopNote />
      </div>
    </section>
  );
}
