import { useState } from "preact/hooks";
import type { GateLine, GateView } from "../../src/contract/gate-schema.ts";
import { WarningGlyph } from "../frame/banners.tsx";
import { ProblemNote } from "../frame/problem-note.tsx";
import { routeTo } from "../routing.ts";
import { addresses } from "../server/resources.ts";
import { useResource } from "../server/use-resource.ts";
import { momentWords } from "../words/quantities.ts";
import { GateForm } from "./gate-form.tsx";
import { gateItemNames } from "./gate-item-names.ts";

const stateWords: Readonly<Record<GateLine["state"], string>> = {
  met: "✓ there",
  skipped: "skipped",
  missing: "missing",
  "not needed": "not demanded",
};

/** What is in place before the first current, which alters the specimen for good. */
export function GatePanel({ specimen }: { specimen: string }) {
  const gate = useResource<GateView>(addresses.gate(specimen));
  const [passing, setPassing] = useState(false);
  const view = gate.value;
  return (
    <section class="panel" aria-labelledby="gate-title">
      <div class="panel-head">
        <h2 id="gate-title">Before the first current</h2>
        {view !== null && !view.currentHasFlowed && (
          <button type="button" onClick={() => setPassing(!passing)}>
            {passing ? "Close the form" : "Write down what is in place"}
          </button>
        )}
      </div>
      <ProblemNote problem={gate.problem} />
      {view !== null && (
        <>
          <Standing view={view} />
          <div class="table-frame">
            <table class="gate">
              <thead>
                <tr>
                  <th scope="col">What</th>
                  <th scope="col">State</th>
                  <th scope="col">In words</th>
                </tr>
              </thead>
              <tbody>
                {view.lines.map((line) => (
                  <tr key={line.item}>
                    <th scope="row">{gateItemNames[line.item]}</th>
                    <td class="tight">
                      <span class={line.state === "missing" ? "standing" : "standing standing-firm"}>
                        {stateWords[line.state]}
                      </span>
                    </td>
                    <td>{line.state === "not needed" ? "" : line.words}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
          {view.passages.map(({ sequence, at, by, passage }) => (
            <p key={sequence} class="hint">
              Written down {momentWords(at)} by {by},{" "}
              <a href={routeTo("ledger", String(sequence))}>entry {sequence}</a>
              {passage.present.length === 0 ? "" : `; present: ${passage.present.join(", ")}`}
              {passage.note === "" ? "" : `. ${passage.note}`}
            </p>
          ))}
          {passing && !view.currentHasFlowed && (
            <GateForm
              view={view}
              onPassed={() => {
                setPassing(false);
                gate.reload();
              }}
            />
          )}
          <p class="hint">
            What is demanded, the lab decides under <a href={routeTo("limits", "policy")}>Limits, Policy</a>.
          </p>
        </>
      )}
    </section>
  );
}

function Standing({ view }: { view: GateView }) {
  if (view.currentHasFlowed) return <p>Current has flowed through it already; the gate lies behind it.</p>;
  if (view.open) return <p>Nothing that the lab demands is missing: the first current may flow.</p>;
  return (
    <p class="problem">
      <WarningGlyph />
      <span>
        <strong>No current yet.</strong> Every test alters the specimen, and something that the lab demands
        before the first is missing.
      </span>
    </p>
  );
}
