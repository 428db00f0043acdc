import { useState } from "preact/hooks";
import { CsvField } from "../forms/csv-field.tsx";
import { FormEnd } from "../forms/form-end.tsx";
import { useSending } from "../forms/use-sending.ts";
import { ProblemFields } from "../frame/problem-fields.tsx";
import { importSpecimens } from "../server/resources.ts";

const example =
  "label,ratedAmps,poles,volts,job,panel,circuit,condition\nML-01,20,1,120,Mill Lane 3,main,1,dusty";

/** Receives a list of specimens from CSV: every line that is wrong is named, and then none is received. */
export function ImportForm({ onImported }: { onImported: () => void }) {
  const [csv, setCsv] = useState("");
  const [name, setName] = useState("");
  const sending = useSending();

  async function send(event: Event) {
    event.preventDefault();
    if (csv.trim() === "") {
      sending.refuse([{ field: "the list", problem: "It is empty; choose a file or paste its lines." }]);
      return;
    }
    const lines = csv.trim().split("\n").length - 1;
    const words = `Received ${lines} ${lines === 1 ? "line" : "lines"}.`;
    if (!(await sending.send(() => importSpecimens(csv, name), words))) return;
    setCsv("");
    setName("");
    onImported();
  }

  return (
    <section class="panel" aria-labelledby="import-title">
      <h2 id="import-title">Import a list of specimens</h2>
      <p class="hint">
        One line a specimen. Needed columns: <code>label, ratedAmps, poles, volts</code>; others:{" "}
        <code>
          job, panel, circuit, receivedOn, handleAsReceived, operationsSinceRemoval, condition, selection,
          tripType, typeLetter, frameAmps, calibratedCelsius, makeCode, typeCode, dateCode, madeYear, notes
        </code>
        . An empty field is one that is not known. All lines are received or none.
      </p>
      <form noValidate onSubmit={send} class="form" aria-label="Import a list of specimens">
        <CsvField
          id="specimens-csv"
          label="List as CSV"
          value={csv}
          example={example}
          onChange={(text, file) => {
            setCsv(text);
            setName(file);
          }}
        />
        {name !== "" && <p class="hint">From the file {name}.</p>}
        <ProblemFields problem={sending.problem} />
        <FormEnd sending={sending} words="Import" />
      </form>
    </section>
  );
}
