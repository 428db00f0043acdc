import { useState } from "preact/hooks";
import type { AmendedEntry } from "../../src/contract/amendment-schema.ts";
import type { EntryBodies } from "../../src/contract/ledger-entries.ts";
import type { OperationState } from "../../src/core/specimen/specimen.ts";
import { ChoiceField, LongField, TextField, TickField } from "../forms/field.tsx";
import { FormEnd } from "../forms/form-end.tsx";
import { useSending } from "../forms/use-sending.ts";
import { BodyFacts, fieldWords } from "../ledger/body-facts.tsx";
import { routeTo } from "../routing.ts";
import { problemOfField } from "../server/request.ts";
import { amendEntry } from "../server/resources.ts";
import { momentWords } from "../words/quantities.ts";
import { operationWords } from "../words/state-words.ts";
import { type AmendableField, amendableFields, textOfField, valueOfField } from "./amendable-fields.ts";
import { PersonField, usePerson } from "./person-field.tsx";

/** Corrects one field of an entry by a new entry that keeps the old value; and shows what was corrected before. */
export function AmendPanel({ entry, onAmended }: { entry: AmendedEntry; onAmended: () => void }) {
  const fields = amendableFields(entry);
  return (
    <section class="panel" aria-labelledby={`amend-${entry.sequence}`}>
      <h2 id={`amend-${entry.sequence}`}>Amendments of entry {entry.sequence}</h2>
      <AmendmentHistory entry={entry} />
      {fields.length === 0 ? (
        <p class="hint">Entries of this kind are not amended.</p>
      ) : (
        <details>
          <summary>Correct a field</summary>
          <AmendForm entry={entry} fields={fields} onAmended={onAmended} />
        </details>
      )}
    </section>
  );
}

/** A place in the body of an entry in words: `/details/ratedAmps` is `rated amps`. */
function placeWords(path: string): string {
  return path
    .replace(/^\/(details\/)?/, "")
    .split("/")
    .map((step) => (/^\d+$/.test(step) ? String(Number(step) + 1) : fieldWords(step)))
    .join(", ");
}

/** Each amendment of an entry, oldest first, and then what it says today. */
export function AmendmentHistory({ entry }: { entry: AmendedEntry }) {
  if (entry.history.length === 0) return <p>It stands as it was first written.</p>;
  return (
    <>
      <ol class="reasons">
        {entry.history.map(({ sequence, at, by, amendment }) => (
          <li key={sequence}>
            <strong>{placeWords(amendment.path)}</strong>: {shown(amendment, "before")} →{" "}
            {shown(amendment, "after")}. {amendment.why}
            <span class="cell-more">
              {momentWords(at)} by {by}, <a href={routeTo("ledger", String(sequence))}>entry {sequence}</a>
            </span>
          </li>
        ))}
      </ol>
      <details>
        <summary>As it stands now</summary>
        <BodyFacts body={entry.now} />
      </details>
    </>
  );
}

/** A value of an amendment in words. */
function shown(amendment: EntryBodies["entry-amended"], which: "before" | "after"): string {
  const value = amendment[which];
  if (value === undefined) return "nothing";
  if (amendment.kind === "shot-opened" && amendment.path === "/state")
    return operationWords(value as OperationState);
  return typeof value === "string" ? `"${value}"` : JSON.stringify(value);
}

/** The form that corrects one of the fields of an entry. */
export function AmendForm({
  entry,
  fields,
  onAmended,
}: {
  entry: AmendedEntry;
  fields: readonly AmendableField[];
  onAmended: () => void;
}) {
  const [path, setPath] = useState(fields[0]?.path ?? "");
  const [typed, setTyped] = useState<string | null>(null);
  const [away, setAway] = useState(false);
  const [why, setWhy] = useState("");
  const [person, setPerson] = usePerson();
  const sending = useSending();
  const field = fields.find((one) => one.path === path);
  if (field === undefined) return null;
  const text = typed ?? textOfField(field);
  const takeAway = away && field.optional && field.value !== undefined;

  async function send(event: Event, { value, ...chosen }: AmendableField) {
    event.preventDefault();
    const amendment = {
      entry: entry.sequence,
      path: chosen.path,
      ...(value === undefined ? {} : { before: value }),
      ...(takeAway ? {} : { after: valueOfField({ value, ...chosen }, text) }),
      why,
      by: person,
    };
    if (!(await sending.send(() => amendEntry(amendment), "Amended. The old value is kept."))) return;
    setTyped(null);
    setAway(false);
    setWhy("");
    onAmended();
  }

  const prefix = `amend-${entry.sequence}`;
  const shared = {
    id: `${prefix}-after`,
    label: field.kind === "state" ? "Right: operations before the test; empty where as found" : "Right value",
    value: text,
    onChange: setTyped,
    problem: takeAway ? null : problemOfField(sending.problem, "after"),
  };
  return (
    <form noValidate onSubmit={(event) => send(event, field)} class="form" aria-label="Correct a field">
      <div class="fields fields-first">
        <ChoiceField
          id={`${prefix}-field`}
          label="Field"
          value={path}
          onChange={(next) => {
            setPath(next);
            setTyped(null);
            setAway(false);
          }}
          choices={fields.map((one) => [
            one.path,
            one.value === undefined ? `${one.label} (not written)` : one.label,
          ])}
          problem={problemOfField(sending.problem, "path")}
        />
        {!takeAway &&
          (field.kind === "choice" ? (
            <ChoiceField {...shared} choices={[["", "choose"], ...(field.choices ?? [])]} />
          ) : field.kind === "lines" ? (
            <LongField {...shared} rows={3} />
          ) : (
            <TextField {...shared} />
          ))}
        <PersonField
          id={`${prefix}-by`}
          value={person}
          onChange={setPerson}
          problem={problemOfField(sending.problem, "by")}
        />
        <TextField
          id={`${prefix}-why`}
          label="Why it is corrected"
          value={why}
          onChange={setWhy}
          wide
          required
          problem={problemOfField(sending.problem, "why")}
        />
      </div>
      {field.optional && field.value !== undefined && (
        <TickField checked={away} onChange={setAway}>
          It is not known: take the field away
        </TickField>
      )}
      <FormEnd sending={sending} words="Amend" />
    </form>
  );
}
