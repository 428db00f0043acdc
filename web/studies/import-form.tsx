import { useState } from "preact/hooks";
import { CsvField } from "../forms/csv-field.tsx";
import { FormEnd } from "../forms/form-end.tsx";
import { useSending } from "../forms/use-sending.ts";
import { ProblemFields } from "../frame/problem-fields.tsx";
import { importStudies } from "../server/resources.ts";

const header = "study,year,stratum,criterion,multiple,tested,failed,selection,citation,rob_sampling";
const example = `${header}\nInvented A,1998,two-pole,"no trip within the limit",1.35,40,3,on suspicion,"Invented source, page 2",high`;

/** Imports a file of counts taken from publications: every line that is wrong is named, and then nothing is stored. */
export function ImportForm({ onImported }: { onImported: () => void }) {
  const [csv, setCsv] = useState("");
  const [name, setName] = useState("");
  const sending = useSending();

  async function send(event: Event) {
    event.preventDefault();
    if (csv.trim() === "") {
      sending.refuse([{ field: "the table", problem: "It is empty; choose a file or paste its lines." }]);
      return;
    }
    if (await sending.send(() => importStudies(csv, name), "Imported.")) {
      setCsv("");
      setName("");
      onImported();
    }
  }

  return (
    <section class="panel" aria-labelledby="import-title">
      <h2 id="import-title">Import studies</h2>
      <p class="hint">
        One line a stratum, with the header <code>{header.replace(",rob_sampling", "")}</code>; further
        columns that begin with rob_ hold answers on the risk of bias: low, high or unclear. Multiple may be
        empty. Selection is one of: all of a panel, at random, on suspicion, unknown. All lines are taken or
        none.
      </p>
      <form noValidate onSubmit={send} class="form" aria-label="Import studies">
        <CsvField
          id="studies-csv"
          label="Counts as CSV"
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
