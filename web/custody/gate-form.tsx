import { useState } from "preact/hooks";
import type { GateView } from "../../src/contract/gate-schema.ts";
import type { GateItem } from "../../src/contract/ledger-entries.ts";
import { LongField, TextField } from "../forms/field.tsx";
import { FormEnd } from "../forms/form-end.tsx";
import { useSending } from "../forms/use-sending.ts";
import { problemOfField } from "../server/request.ts";
import { passGate } from "../server/resources.ts";
import { gateItemNames } from "./gate-item-names.ts";
import { PersonField, usePerson } from "./person-field.tsx";
import { begunRows, RowFields, type RowText } from "./row-fields.tsx";

/** Checks that alter nothing, offered as they are commonly made; what was found stays to be written. */
const commonChecks: readonly RowText[] = [
  { check: "Handle position, without moving it", found: "" },
  { check: "Marks and rating, read", found: "" },
];

/** Writes down what is in place before the first current, and what is skipped with which reason. */
export function GateForm({ view, onPassed }: { view: GateView; onPassed: () => void }) {
  const [checks, setChecks] = useState<readonly RowText[]>(commonChecks);
  const [parties, setParties] = useState<readonly RowText[]>([]);
  const [present, setPresent] = useState("");
  const [authority, setAuthority] = useState({ by: "", on: "", words: "" });
  const [reasons, setReasons] = useState<Partial<Record<GateItem, string>>>({});
  const [note, setNote] = useState("");
  const [person, setPerson] = usePerson();
  const sending = useSending();
  const missing = view.lines.filter((line) => line.state === "missing");
  const given = authority.by.trim() !== "" || authority.on !== "" || authority.words.trim() !== "";

  async function send(event: Event) {
    event.preventDefault();
    const passage = {
      checks: begunRows(checks)
        .filter(
          (row) => (row.found ?? "").trim() !== "" || !commonChecks.some((one) => one.check === row.check),
        )
        .map((row) => ({ check: row.check ?? "", found: row.found ?? "" })),
      parties: begunRows(parties).map((row) => ({
        party: row.party ?? "",
        notifiedOn: row.notifiedOn ?? "",
        answer: row.answer ?? "",
      })),
      present: present.split(/[,;\n]/).flatMap((one) => (one.trim() === "" ? [] : [one.trim()])),
      ...(given ? { authority } : {}),
      skipped: missing.flatMap(({ item }) => {
        const reason = reasons[item]?.trim() ?? "";
        return reason === "" ? [] : [{ item, reason }];
      }),
      note,
      by: person,
    };
    if (await sending.send(() => passGate(view.specimen, passage), "Written down.")) onPassed();
  }

  return (
    <form noValidate onSubmit={send} class="form" aria-label="What is in place before the first current">
      <RowFields
        id="gate-check"
        legend="Checks that alter nothing"
        columns={[
          { name: "check", label: "Check" },
          { name: "found", label: "What was found" },
        ]}
        rows={checks}
        onChange={setChecks}
      />
      <RowFields
        id="gate-party"
        legend="Parties notified"
        columns={[
          { name: "party", label: "Who was notified" },
          { name: "notifiedOn", label: "On which day", kind: "date" },
          { name: "answer", label: "Their answer, or that there was none" },
        ]}
        rows={parties}
        onChange={setParties}
      />
      <fieldset class="field-rows">
        <legend>Authority to proceed</legend>
        <div class="rows-line">
          <TextField
            id="gate-authority-by"
            label="Who gave it"
            value={authority.by}
            onChange={(by) => setAuthority({ ...authority, by })}
          />
          <TextField
            id="gate-authority-on"
            label="Given on"
            kind="date"
            value={authority.on}
            onChange={(on) => setAuthority({ ...authority, on })}
            problem={problemOfField(sending.problem, "on")}
          />
          <TextField
            id="gate-authority-words"
            label="What it allows"
            value={authority.words}
            onChange={(words) => setAuthority({ ...authority, words })}
          />
        </div>
      </fieldset>
      {missing.length > 0 && (
        <fieldset class="field-rows">
          <legend>Skipped, with the reason; leave empty what is not skipped</legend>
          {missing.map(({ item }) => (
            <TextField
              key={item}
              id={`gate-skip-${item}`}
              label={gateItemNames[item]}
              value={reasons[item] ?? ""}
              onChange={(reason) => setReasons({ ...reasons, [item]: reason })}
            />
          ))}
        </fieldset>
      )}
      <div class="fields">
        <TextField
          id="gate-present"
          label="Who is present, separated by commas"
          value={present}
          onChange={setPresent}
        />
        <PersonField
          id="gate-by"
          value={person}
          onChange={setPerson}
          problem={problemOfField(sending.problem, "by")}
        />
        <LongField id="gate-note" label="Note" value={note} rows={2} wide onChange={setNote} />
      </div>
      <FormEnd sending={sending} words="Write it down" />
    </form>
  );
}
