import { useState } from "preact/hooks";
import { type CustodyChain, custodyEvents, sealConditions } from "../../src/contract/custody-schema.ts";
import type { CustodyEvent } from "../../src/contract/ledger-entries.ts";
import { ChoiceField, LongField, TextField } from "../forms/field.tsx";
import { FormEnd } from "../forms/form-end.tsx";
import { useSending } from "../forms/use-sending.ts";
import { problemOfField } from "../server/request.ts";
import { addCustody } from "../server/resources.ts";
import { MomentField, momentOf, thisMinute } from "./moment-field.tsx";
import { PersonField, usePerson } from "./person-field.tsx";

type Seal = CustodyEvent["seals"][number];
const same = (values: readonly string[]) => values.map((value) => [value, value] as const);

/** Records one event of the chain. Whoever has it now stands already where it comes from. */
export function CustodyForm({ chain, onRecorded }: { chain: CustodyChain; onRecorded: () => void }) {
  const [event, setEvent] = useState<CustodyEvent["event"]>(
    chain.lines.length === 0 ? "receipt" : "transfer",
  );
  const [from, setFrom] = useState(chain.holder ?? "");
  const [to, setTo] = useState("");
  const [observed, setObserved] = useState(thisMinute);
  const [until, setUntil] = useState("");
  const [seals, setSeals] = useState<Seal[]>([]);
  const [seal, setSeal] = useState("");
  const [sealState, setSealState] = useState<Seal["condition"]>("intact");
  const [condition, setCondition] = useState("");
  const [note, setNote] = useState("");
  const [person, setPerson] = usePerson();
  const sending = useSending();
  const problem = (field: string) => problemOfField(sending.problem, field);

  function addSeal(number: string): Seal[] {
    if (number.trim() === "") return seals;
    const all = [
      ...seals.filter((one) => one.number !== number.trim()),
      { number: number.trim(), condition: sealState },
    ];
    setSeals(all);
    setSeal("");
    return all;
  }

  async function send(submitted: Event) {
    submitted.preventDefault();
    const observedAt = momentOf(observed);
    if (observedAt === null) {
      sending.refuse([
        { field: "observedAt", problem: "Enter the day and the time at which it was observed." },
      ]);
      return;
    }
    const observedUntil = momentOf(until);
    const record = {
      ...{ about: chain.about, event, from, to, observedAt, by: person },
      ...{ seals: addSeal(seal), condition, note },
      ...(observedUntil === null ? {} : { observedUntil }),
    };
    if (!(await sending.send(() => addCustody(record), "Recorded."))) return;
    setFrom(to);
    setTo("");
    setSeals([]);
    setCondition("");
    setNote("");
    setUntil("");
    setObserved(thisMinute());
    onRecorded();
  }

  return (
    <form noValidate onSubmit={send} class="form" aria-label="Record a custody event">
      <div class="fields fields-first">
        <ChoiceField
          id="custody-event"
          label="What happened"
          value={event}
          onChange={(value) => setEvent(value as CustodyEvent["event"])}
          choices={same(custodyEvents)}
          problem={problem("event")}
        />
        <TextField
          id="custody-from"
          label="From"
          value={from}
          onChange={setFrom}
          required
          problem={problem("from")}
        />
        <TextField id="custody-to" label="To" value={to} onChange={setTo} required problem={problem("to")} />
        <MomentField
          id="custody-observed"
          label="Observed at"
          value={observed}
          onChange={setObserved}
          problem={problem("observedAt")}
        />
        <MomentField
          id="custody-until"
          label="Until, for what lasted"
          value={until}
          onChange={setUntil}
          problem={problem("observedUntil")}
        />
        <PersonField id="custody-by" value={person} onChange={setPerson} problem={problem("by")} />
      </div>
      <fieldset class="seals">
        <legend>Seals</legend>
        <ChoiceField
          id="custody-seal-state"
          label="Condition"
          value={sealState}
          onChange={(value) => setSealState(value as Seal["condition"])}
          choices={same(sealConditions)}
        />
        <div class="field">
          <label for="custody-seal">Number: scan, or type and press Enter</label>
          <input
            id="custody-seal"
            value={seal}
            autoComplete="off"
            onInput={(input) => setSeal(input.currentTarget.value)}
            onKeyDown={(key) => {
              if (key.key !== "Enter" || seal.trim() === "") return;
              key.preventDefault();
              addSeal(seal);
            }}
          />
        </div>
        <ul class="choices">
          {seals.map(({ number, condition: state }) => (
            <li key={number}>
              <button
                type="button"
                aria-label={`Take seal ${number} off the list`}
                onClick={() => setSeals(seals.filter((one) => one.number !== number))}
              >
                {number} {state} ×
              </button>
            </li>
          ))}
        </ul>
      </fieldset>
      {problem("seals") !== null && <p class="field-problem">{problem("seals")}</p>}
      <div class="fields">
        <LongField
          id="custody-condition"
          label="Condition of package or specimen"
          value={condition}
          rows={2}
          onChange={setCondition}
          problem={problem("condition")}
        />
        <LongField
          id="custody-note"
          label="Note"
          value={note}
          rows={2}
          onChange={setNote}
          problem={problem("note")}
        />
      </div>
      <FormEnd sending={sending} words="Record the event" />
    </form>
  );
}
