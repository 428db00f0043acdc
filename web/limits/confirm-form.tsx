import { useState } from "preact/hooks";
import type { ConfirmedLimitSetView } from "../../src/contract/confirmation.ts";
import { requirementWords } from "../../src/core/limits/requirement-words.ts";
import { formatMultiple } from "../../src/core/units/format-multiple.ts";
import { LongField, TextField, TickField } from "../forms/field.tsx";
import { FormEnd } from "../forms/form-end.tsx";
import { useSending } from "../forms/use-sending.ts";
import { problemOfField } from "../server/request.ts";
import { confirmLimitSet } from "../server/resources.ts";

/** Writes down that rows were compared with the lab's own copy of the document: who, when, which edition, which rows. */
export function ConfirmForm({ view, onConfirmed }: { view: ConfirmedLimitSetView; onConfirmed: () => void }) {
  const { set, confirmedRows } = view;
  const [document, setDocument] = useState(set.rows[0]?.source.document ?? "");
  const [edition, setEdition] = useState("");
  const [by, setBy] = useState("");
  const [note, setNote] = useState("");
  const [rows, setRows] = useState<readonly string[]>([]);
  const sending = useSending();

  async function send(event: Event) {
    event.preventDefault();
    if (rows.length === 0) {
      sending.refuse([{ field: "rows", problem: "None is ticked; tick the rows that were compared." }]);
      return;
    }
    const confirmation = { document, edition, by, rows: [...rows], ...(note === "" ? {} : { note }) };
    if (
      await sending.send(
        () => confirmLimitSet(set.id, confirmation),
        `${rows.length} ${rows.length === 1 ? "row" : "rows"} confirmed.`,
      )
    ) {
      setRows([]);
      onConfirmed();
    }
  }

  return (
    <details>
      <summary>Confirm rows against your own copy</summary>
      <form noValidate onSubmit={send} class="form" aria-label="Confirm rows">
        <p>
          Tick only what you have read in your own copy and found the same. It stays in the ledger under your
          name.
        </p>
        <div class="choices">
          <button type="button" onClick={() => setRows(set.rows.map(({ id }) => id))}>
            Tick all
          </button>
          <button type="button" onClick={() => setRows([])}>
            Tick none
          </button>
        </div>
        <div class="row-ticks">
          {set.rows.map((row) => (
            <TickField
              key={row.id}
              checked={rows.includes(row.id)}
              onChange={(checked) =>
                setRows(checked ? [...rows, row.id] : rows.filter((other) => other !== row.id))
              }
            >
              {row.id}: {formatMultiple(row.multiple)}, {requirementWords(row.requirement)}
              {confirmedRows.includes(row.id) ? " (confirmed)" : ""}
            </TickField>
          ))}
        </div>
        {problemOfField(sending.problem, "rows") !== null && (
          <p class="field-problem">{problemOfField(sending.problem, "rows")}</p>
        )}
        <div class="fields fields-first">
          <TextField
            id="confirm-document"
            label="Document"
            value={document}
            onChange={setDocument}
            required
            problem={problemOfField(sending.problem, "document")}
          />
          <TextField
            id="confirm-edition"
            label="Edition of your copy"
            value={edition}
            onChange={setEdition}
            required
            problem={problemOfField(sending.problem, "edition")}
          />
          <TextField
            id="confirm-by"
            label="Who compared"
            value={by}
            onChange={setBy}
            required
            problem={problemOfField(sending.problem, "by")}
          />
          <LongField id="confirm-note" label="Note" value={note} onChange={setNote} rows={2} wide />
        </div>
        <FormEnd sending={sending} words="Confirm the ticked rows" />
      </form>
    </details>
  );
}
