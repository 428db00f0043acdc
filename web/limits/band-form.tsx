import { useState } from "preact/hooks";
import { parseBandTable } from "../../src/core/limits/parse-band-table.ts";
import { CsvField } from "../forms/csv-field.tsx";
import { ChoiceField, TextField } from "../forms/field.tsx";
import { FormEnd } from "../forms/form-end.tsx";
import { useSending } from "../forms/use-sending.ts";
import { ProblemFields } from "../frame/problem-fields.tsx";
import { problemOfField } from "../server/request.ts";
import { addBand } from "../server/resources.ts";

const example = "edge,multiple,seconds\nminimum,1.35,60\nminimum,6,0.9\nmaximum,1.35,1800\nmaximum,6,9";
const nothing = { id: "", title: "", document: "", edition: "", clause: "", makeCode: "", typeCode: "" };
const standings = ["seen second-hand", "read in the document", "from memory", "our own choice"] as const;

/** Adds a band from CSV points; every line that is wrong is named before anything is sent. */
export function BandForm({ onAdded }: { onAdded: () => void }) {
  const [text, setText] = useState(nothing);
  const [standing, setStanding] = useState<string>(standings[0]);
  const [csv, setCsv] = useState("");
  const sending = useSending();
  const set = (name: keyof typeof nothing) => (value: string) => setText({ ...text, [name]: value });
  const field = (name: keyof typeof nothing, label: string, hint = "") => (
    <TextField
      id={`band-${name}`}
      label={label}
      value={text[name]}
      onChange={set(name)}
      example={hint}
      problem={problemOfField(sending.problem, name)}
    />
  );

  async function send(event: Event) {
    event.preventDefault();
    const parsed = parseBandTable(csv.split(/\r\n|\n|\r/).map((line) => line.split(",")));
    if (!parsed.ok) {
      sending.refuse(parsed.problems.map(splitAtColon));
      return;
    }
    const given = (value: string) => (value.trim() === "" ? null : value.trim());
    const band = {
      id: text.id.trim(),
      title: text.title.trim(),
      source: {
        document: text.document.trim(),
        edition: given(text.edition),
        clause: given(text.clause),
        standing,
      },
      makeCode: given(text.makeCode),
      typeCode: given(text.typeCode),
      ...parsed.edges,
    };
    if (await sending.send(() => addBand(band), `Band ${band.id} added.`)) {
      setText(nothing);
      setCsv("");
      onAdded();
    }
  }

  return (
    <section class="panel" aria-labelledby="band-form-title">
      <h2 id="band-form-title">Add a band</h2>
      <p class="hint">
        Points digitised from a published curve, joined by straight lines in log-log space. Header{" "}
        <code>edge,amps,seconds</code> or <code>edge,multiple,seconds</code>; edge is minimum or maximum;
        currents rise along each edge and the edges never cross. A band is never replaced: a better one gets
        another name.
      </p>
      <form noValidate onSubmit={send} class="form" aria-label="Add a band">
        <div class="fields fields-first">
          {field("id", "Name, lower case with hyphens", "frame-q-thermal")}
          {field("title", "Title")}
          {field("document", "Publication")}
          {field("edition", "Edition or date")}
          {field("clause", "Page, figure or drawing number")}
          <ChoiceField
            id="band-standing"
            label="How well it is known"
            value={standing}
            onChange={setStanding}
            choices={standings.map((one) => [one, one])}
          />
          {field("makeCode", "Your code for the maker")}
          {field("typeCode", "Your code for the type")}
          <CsvField id="band-csv" label="Points" value={csv} example={example} onChange={setCsv} />
        </div>
        <ProblemFields problem={sending.problem} />
        <FormEnd sending={sending} words="Add the band" />
      </form>
    </section>
  );
}

/** What stands before the first colon of a sentence about a line is its place. */
function splitAtColon(sentence: string): { field: string; problem: string } {
  const colon = sentence.indexOf(": ");
  return colon === -1
    ? { field: "points", problem: sentence }
    : { field: sentence.slice(0, colon), problem: sentence.slice(colon + 2) };
}
