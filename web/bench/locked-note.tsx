import type { NextStepView, NextView, PlanView } from "../../src/contract/programme.ts";
import { JamMark } from "../specimens/jam-mark.tsx";
import { ruleWords } from "../words/rule-words.ts";
import { CoolingTimer } from "./cooling-timer.tsx";

/** What was locked for the chosen specimen: rule, next step, whether it is cold, and the mark of a suspected jam. */
export function LockedNote({
  specimen,
  plan,
  next,
}: {
  specimen: string;
  plan: PlanView | null;
  next: NextView | null;
}) {
  if (plan === null || plan.specimen !== specimen) return null;
  const step = next?.specimens.find((one) => one.specimen === specimen) ?? null;
  return (
    <div class="locked">
      {plan.lock === null ? (
        <p>No programme is locked: judged by simple acceptance.</p>
      ) : (
        <p>
          Locked: <strong>{plan.lock.programme}</strong>, {plan.done} of {plan.steps.length} done; judged by{" "}
          <strong>{ruleWords(plan.lock.rule)}</strong>.
        </p>
      )}
      <JamMark words={plan.jamSuspected} />
      {step !== null && <NextStep step={step} said={next?.at ?? ""} />}
    </div>
  );
}

function NextStep({ step, said }: { step: NextStepView; said: string }) {
  return (
    <p class="cold-line">
      <span>
        Next: <strong>{step.step.words}</strong>.{" "}
        {step.coldness === null ? "" : `${coldWords[step.coldness.verdict]} `}
        {step.words}
      </span>
      {step.waitSeconds > 0 && !step.allowed && <CoolingTimer waitSeconds={step.waitSeconds} said={said} />}
    </p>
  );
}

const coldWords = { cold: "Cold.", "not cold": "Not cold.", unknown: "Not known whether cold." } as const;
