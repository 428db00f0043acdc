import type { ProgrammeStep } from "../../src/contract/http.ts";
import type { PlanView } from "../../src/contract/programme.ts";
import { formatSeconds } from "../../src/core/units/format-seconds.ts";
import { moveWithArrows } from "../frame/move-with-arrows.ts";
import { ResultBadge } from "../words/result-badge.tsx";

/** Which step of a programme is meant: a row of a limit set on one loading. */
export function stepKey({ point }: Pick<ProgrammeStep, "point">): string {
  return `${point.limitSet} ${point.row.id} ${point.loading}`;
}

/** The step that the locked programme asks for next, or null: it asks for none, or for none of these. */
export function lockedStep(steps: readonly ProgrammeStep[], plan: PlanView | null): ProgrammeStep | null {
  const next = plan?.steps.find((step) => step.state === "next");
  if (next === undefined || plan?.lock?.limitSet !== steps[0]?.point.limitSet) return null;
  return steps.find(({ point }) => point.row.id === next.row && point.loading === next.loading) ?? null;
}

/** The step to take next: the first without a test, else the first. */
export function nextStep(steps: readonly ProgrammeStep[]): ProgrammeStep | null {
  return steps.find((step) => step.shot === null) ?? steps[0] ?? null;
}

/** The programme as large buttons; each says what became of it last time. */
export function ProgrammeSteps({
  steps,
  chosen,
  onChoose,
}: {
  steps: readonly ProgrammeStep[];
  chosen: ProgrammeStep | null;
  onChoose: (step: ProgrammeStep) => void;
}) {
  return (
    <ol class="steps" onKeyDown={moveWithArrows("button")}>
      {steps.map((step) => (
        <li key={stepKey(step)}>
          <button
            type="button"
            aria-pressed={chosen !== null && stepKey(chosen) === stepKey(step)}
            onClick={() => onChoose(step)}
          >
            <span class="step-words">{step.words}</span>
            <span class="step-past">
              {step.shot === null ? (
                "not tested"
              ) : (
                <>
                  <ResultBadge result={step.shot.result} />
                  {step.shot.seconds === null
                    ? `no trip in ${formatSeconds(step.shot.heldSeconds)}`
                    : formatSeconds(step.shot.seconds)}
                </>
              )}
            </span>
          </button>
        </li>
      ))}
    </ol>
  );
}
