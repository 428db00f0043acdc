import { useState } from "preact/hooks";
import type { PlanKindsView, PlanView } from "../../src/contract/plans.ts";
import { TextField } from "../forms/field.tsx";
import { CopySentence } from "../frame/copy-sentence.tsx";
import { ProblemNote } from "../frame/problem-note.tsx";
import { problemOfField } from "../server/request.ts";
import { addresses, query } from "../server/resources.ts";
import { useResource } from "../server/use-resource.ts";
import { useSettled } from "../server/use-settled.ts";

/** What stands in a field before anything is typed: examples, not advice. */
const examples: Readonly<Record<string, string>> = {
  confidence: "0.95",
  reliability: "0.9",
  allowed: "1",
  tested: "59",
  rate: "0.05",
  "half-width": "0.03",
  "good-rate": "0.01",
  "refuse-good": "0.05",
  "bad-rate": "0.1",
  "accept-bad": "0.1",
  size: "40",
  bad: "2",
};

/** Chooses a kind of plan and answers it. */
export function HowManyPart() {
  const kinds = useResource<PlanKindsView>(addresses.planKinds);
  const [wished, setWished] = useState<string | null>(null);
  const kind = kinds.value?.find((one) => one.kind === wished) ?? kinds.value?.[0];
  return (
    <section class="panel" aria-labelledby="tests-title">
      <h2 id="tests-title">How many to test</h2>
      <ProblemNote problem={kinds.problem} />
      <fieldset class="choices" aria-label="Kind of plan">
        {(kinds.value ?? []).map((one) => (
          <button
            key={one.kind}
            type="button"
            aria-pressed={one.kind === kind?.kind}
            onClick={() => setWished(one.kind)}
          >
            {one.about}
          </button>
        ))}
      </fieldset>
      {kind !== undefined && <Planned key={kind.kind} kind={kind} />}
    </section>
  );
}

function Planned({ kind }: { kind: PlanKindsView[number] }) {
  const [text, setText] = useState<Record<string, string>>(() =>
    Object.fromEntries(Object.keys(kind.inputs).map((name) => [name, examples[name] ?? ""])),
  );
  const asked = useSettled(query(text));
  const plan = useResource<PlanView>(addresses.planned(kind.kind, asked));
  return (
    <form class="form" aria-label={kind.about} onSubmit={(event) => event.preventDefault()}>
      <div class="fields">
        {Object.entries(kind.inputs).map(([name, words]) => (
          <TextField
            key={name}
            id={`plan-${name}`}
            label={words.charAt(0).toUpperCase() + words.slice(1)}
            kind="number"
            value={text[name] ?? ""}
            onChange={(value) => setText({ ...text, [name]: value })}
            problem={problemOfField(plan.problem, name)}
          />
        ))}
      </div>
      <ProblemNote problem={plan.problem} />
      {plan.value !== null && plan.problem === null && (
        <div role="status" class="answer">
          <CopySentence sentence={plan.value.sentence} />
          <p class="hint">{plan.value.presumes}</p>
        </div>
      )}
    </form>
  );
}
