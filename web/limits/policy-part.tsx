import { useEffect, useState } from "preact/hooks";
import type { GateDemand, GateItem, LabPolicy } from "../../src/contract/ledger-entries.ts";
import { gateItemNames } from "../custody/gate-item-names.ts";
import { ChoiceField, TextField } from "../forms/field.tsx";
import { FormEnd } from "../forms/form-end.tsx";
import { readNumber } from "../forms/read-number.ts";
import { useSending } from "../forms/use-sending.ts";
import { ProblemNote } from "../frame/problem-note.tsx";
import { problemOfField } from "../server/request.ts";
import { addresses, setPolicy } from "../server/resources.ts";
import { useResource } from "../server/use-resource.ts";

/** What the lab has decided for all its work, and the form that decides anew. */
export function PolicyPart() {
  const policy = useResource<LabPolicy>(addresses.policy);
  const [text, setText] = useState<LabPolicy | null>(null);
  const [tau, setTau] = useState("");
  const sending = useSending();
  // What is in force stands in the form until somebody changes it
  useEffect(() => {
    if (policy.value === null || text !== null) return;
    setText(policy.value);
    setTau(String(policy.value.coolingTauSeconds));
  }, [policy.value, text]);

  async function send(event: Event) {
    event.preventDefault();
    if (text === null) return;
    const coolingTauSeconds = readNumber(tau);
    if (!(coolingTauSeconds > 0)) {
      sending.refuse([
        { field: "coolingTauSeconds", problem: `Found "${tau}"; seconds above 0 are accepted.` },
      ]);
      return;
    }
    await sending.send(
      () => setPolicy({ ...text, coolingTauSeconds }),
      "Decided. It holds from the next test on.",
    );
  }

  return (
    <section class="panel" aria-labelledby="policy-title">
      <h2 id="policy-title">What this lab has decided</h2>
      <p class="hint">Every decision stays in the ledger with its time; the newest holds.</p>
      <ProblemNote problem={policy.problem} />
      {text !== null && (
        <form noValidate onSubmit={send} class="form" aria-label="Policy">
          <div class="fields">
            <ChoiceField
              id="policy-past-due"
              label="Calibration of the rig past due"
              value={text.pastDueCalibration}
              onChange={(value) =>
                setText({ ...text, pastDueCalibration: value as LabPolicy["pastDueCalibration"] })
              }
              choices={[
                ["block", "no test is made"],
                ["flag", "tests are made and flagged"],
              ]}
            />
            <ChoiceField
              id="policy-precedence"
              label="A band and a table both apply"
              value={text.precedence}
              onChange={(value) => setText({ ...text, precedence: value as LabPolicy["precedence"] })}
              choices={[
                ["band first", "judge by the band"],
                ["table first", "judge by the table"],
              ]}
            />
            <ChoiceField
              id="policy-not-cold"
              label="Specimen not cold by the model"
              value={text.notCold}
              onChange={(value) => setText({ ...text, notCold: value as LabPolicy["notCold"] })}
              choices={[
                ["flag", "the test is made and flagged"],
                ["block", "no test is made"],
              ]}
            />
            <TextField
              id="policy-tau"
              label="Cooling time constant of specimens, s"
              kind="number"
              value={tau}
              onChange={setTau}
              problem={problemOfField(sending.problem, "coolingTauSeconds")}
            />
          </div>
          <fieldset class="field-rows">
            <legend>Demanded before the first current of a specimen</legend>
            <div class="fields">
              {(Object.keys(gateItemNames) as GateItem[]).map((item) => (
                <ChoiceField
                  key={item}
                  id={`policy-gate-${item}`}
                  label={gateItemNames[item]}
                  value={text.gate[item]}
                  onChange={(value) =>
                    setText({ ...text, gate: { ...text.gate, [item]: value as GateDemand } })
                  }
                  choices={[
                    ["not demanded", "not demanded"],
                    ["demanded", "demanded"],
                  ]}
                />
              ))}
            </div>
          </fieldset>
          <FormEnd sending={sending} words="Decide" />
        </form>
      )}
    </section>
  );
}
