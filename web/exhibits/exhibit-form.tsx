import { useEffect, useState } from "preact/hooks";
import { ChoiceField, TextField } from "../forms/field.tsx";
import { useSending } from "../forms/use-sending.ts";
import { problemOfField } from "../server/request.ts";
import { addresses } from "../server/resources.ts";
import type { CaseWords } from "./case-words.ts";
import { fetchFile, fileName, type MadeFile } from "./fetch-file.ts";
import { MadeFileNote } from "./made-file.tsx";

const classes = [
  ["summary", "Summary of voluminous records"],
  ["original", "Original record"],
  ["duplicate", "Duplicate"],
  ["illustrative", "Illustrative aid"],
] as const;

/** Makes the document: figures, readings with uncertainty, verdicts, method, limits of the method, sources. */
export function ExhibitForm({ subject, name, label, caseText }: CaseWords) {
  const [kind, setKind] = useState<string>("summary");
  const [bates, setBates] = useState("");
  const [file, setFile] = useState<MadeFile | null>(null);
  const sending = useSending();
  useEffect(() => () => void (file !== null && URL.revokeObjectURL(file.address)), [file]);

  async function send(event: Event) {
    event.preventDefault();
    setFile(null);
    const path = addresses.exhibit({
      [subject.kind]: subject.id,
      label: label.trim(),
      case: caseText.trim(),
      class: kind,
      bates: bates.trim(),
    });
    await sending.send(async () => setFile(await fetchFile(path, `exhibit-${fileName(name)}.pdf`)), "");
  }

  return (
    <section class="panel" aria-labelledby="exhibit-title">
      <h2 id="exhibit-title">Document (PDF)</h2>
      <p class="hint">
        Figures, results, readings with their uncertainty, method and its limits, what was excluded and why,
        and for each page the entries and hashes it comes from. The same records and words make the same
        bytes.
      </p>
      <form noValidate onSubmit={send} class="form" aria-label="Make the document">
        <div class="fields">
          <ChoiceField
            id="exhibit-class"
            label="What it is to the court"
            value={kind}
            onChange={setKind}
            choices={classes}
            problem={problemOfField(sending.problem, "class")}
          />
          <TextField
            id="exhibit-bates"
            label="Number the pages in Bates form, with this prefix"
            example="LAB-"
            value={bates}
            onChange={setBates}
            problem={problemOfField(sending.problem, "bates")}
          />
        </div>
        <div>
          <button type="submit" class="primary" disabled={sending.sending}>
            Make the document
          </button>
        </div>
        <MadeFileNote sending={sending} file={file} making="Making the document" opens />
      </form>
    </section>
  );
}
