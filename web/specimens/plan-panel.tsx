import { useState } from "preact/hooks";
import type { SpecimenView } from "../../src/contract/http.ts";
import type { PlanStep, PlanView } from "../../src/contract/programme.ts";
import { ProblemNote } from "../frame/problem-note.tsx";
import { routeTo } from "../routing.ts";
import type { Resource } from "../server/use-resource.ts";
import { momentWords } from "../words/quantities.ts";
import { ruleWords } from "../words/rule-words.ts";
import { LockForm } from "./lock-form.tsx";

const stateWords: Readonly<Record<PlanStep["state"], string>> = {
  done: "done",
  next: "next",
  later: "later",
  skipped: "skipped",
};

/** The locked programme of a specimen with how far it is; or the form that locks one. */
export function PlanPanel({ specimen, plan }: { specimen: SpecimenView; plan: Resource<PlanView> }) {
  const [amending, setAmending] = useState(false);
  const lock = plan.value?.lock ?? null;
  return (
    <section class="panel" aria-labelledby="plan-title">
      <div class="panel-head">
        <h2 id="plan-title">Programme</h2>
        {lock !== null && (
          <button type="button" class="quiet" onClick={() => setAmending(!amending)}>
            {amending ? "Leave it as it is" : "Amend"}
          </button>
        )}
      </div>
      <ProblemNote problem={plan.problem} />
      {plan.value !== null && lock !== null && (
        <>
          <p>
            <strong>{lock.programme}</strong> with the limits {lock.limitSet}, judged by{" "}
            {ruleWords(lock.rule)}. Locked {momentWords(lock.at)} by {lock.actor}, entry {lock.sequence}
            {lock.beforeFirstCurrent ? ", before the first current." : ", after current had flowed."}
            {lock.why === "" ? "" : ` Why: ${lock.why}`}
          </p>
          <p role="status">
            {plan.value.finished ? "Finished: " : ""}
            {plan.value.done} of {plan.value.steps.length} steps done.
          </p>
          <ol class="plan-steps">
            {plan.value.steps.map((step, at) => (
              <li
                key={at}
                class={`plan-${step.state}`}
                aria-current={step.state === "next" ? "step" : undefined}
              >
                <span class="plan-state">{stateWords[step.state]}</span>
                <span>
                  {step.words}
                  <span class="cell-more">{step.because}</span>
                </span>
                {step.shot !== null && (
                  <a class="open" href={routeTo("record", step.shot)}>
                    {step.shot}
                  </a>
                )}
              </li>
            ))}
          </ol>
          {plan.value.suspicions.map(({ kind, words }) => (
            <p key={kind} class="problem">
              {words}
            </p>
          ))}
        </>
      )}
      {plan.value !== null && (lock === null || amending) && (
        <LockForm
          specimen={specimen}
          before={lock}
          onLocked={() => {
            setAmending(false);
            plan.reload();
          }}
        />
      )}
    </section>
  );
}
