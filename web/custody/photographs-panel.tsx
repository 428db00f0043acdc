import { useState } from "preact/hooks";
import { type PhotographView, photographShows } from "../../src/contract/photograph-schema.ts";
import { ChoiceField, TextField } from "../forms/field.tsx";
import { FormEnd } from "../forms/form-end.tsx";
import { useSending } from "../forms/use-sending.ts";
import { ProblemNote } from "../frame/problem-note.tsx";
import { problemOfField } from "../server/request.ts";
import { addresses } from "../server/resources.ts";
import { useResource } from "../server/use-resource.ts";
import { MomentField, momentOf } from "./moment-field.tsx";
import { PersonField, usePerson } from "./person-field.tsx";
import { PhotographCard } from "./photograph-card.tsx";
import { PhotographDialog } from "./photograph-dialog.tsx";
import { sendPhotograph } from "./send-photograph.ts";
import type { CaseSubject } from "./subject-chooser.tsx";

/** Photographs of a specimen or a job, each under the hash of its bytes, and the form that adds some. */
export function PhotographsPanel({ subject }: { subject: CaseSubject }) {
  const photographs = useResource<PhotographView[]>(addresses.photographs(subject));
  const [enlarged, setEnlarged] = useState<PhotographView | null>(null);
  const all = photographs.value ?? [];
  return (
    <section class="panel" aria-labelledby="photographs-title">
      <h2 id="photographs-title">Photographs</h2>
      <ProblemNote problem={photographs.problem} />
      {photographs.value !== null && all.length === 0 && <p>None is kept yet.</p>}
      <ul class="photographs">
        {all.map((one) => (
          <PhotographCard key={one.sequence} view={one} onEnlarge={() => setEnlarged(one)} />
        ))}
      </ul>
      {enlarged !== null && (
        <PhotographDialog key={enlarged.sequence} view={enlarged} onClose={() => setEnlarged(null)} />
      )}
      <AddPhotographs subject={subject} onAdded={photographs.reload} />
    </section>
  );
}

function AddPhotographs({ subject, onAdded }: { subject: CaseSubject; onAdded: () => void }) {
  const [files, setFiles] = useState<File[]>([]);
  const [shows, setShows] = useState<string>(photographShows[0]);
  const [taken, setTaken] = useState("");
  const [note, setNote] = useState("");
  const [person, setPerson] = usePerson();
  const sending = useSending();
  const problem = (field: string) => problemOfField(sending.problem, field);

  async function send(event: Event) {
    event.preventDefault();
    const form = event.currentTarget as HTMLFormElement;
    if (files.length === 0) {
      sending.refuse([
        { field: "file", problem: "Choose one photograph or several; PNG and JPEG are accepted." },
      ]);
      return;
    }
    const told = { ...subject, shows, takenAt: momentOf(taken), note, by: person };
    const added = await sending.send(
      async () => {
        for (const file of files) await sendPhotograph(file, { ...told, name: file.name });
      },
      files.length === 1 ? "The photograph is kept." : `${files.length} photographs are kept.`,
    );
    onAdded();
    if (!added) return;
    setFiles([]);
    setNote("");
    form.reset();
  }

  return (
    <details>
      <summary>Add photographs</summary>
      <form noValidate onSubmit={send} class="form" aria-label="Add photographs">
        <p class="hint">
          The file is kept as it is, with its own record of place and time, and named by its hash. Copies for
          publishing are made without them.
        </p>
        <div class="fields fields-first">
          <div class="field field-double">
            <label for="photograph-files">Files, PNG or JPEG</label>
            <input
              id="photograph-files"
              type="file"
              accept="image/png,image/jpeg"
              multiple
              aria-invalid={problem("file") !== null}
              onChange={(event) => setFiles([...(event.currentTarget.files ?? [])])}
            />
            {problem("file") !== null && <p class="field-problem">{problem("file")}</p>}
          </div>
          <ChoiceField
            id="photograph-shows"
            label="Shows"
            value={shows}
            onChange={setShows}
            choices={photographShows.map((one) => [one, one] as const)}
            problem={problem("shows")}
          />
          <MomentField
            id="photograph-taken"
            label="Taken at, where known"
            value={taken}
            onChange={setTaken}
            problem={problem("takenAt")}
          />
          <TextField
            id="photograph-note"
            label="Note"
            value={note}
            onChange={setNote}
            problem={problem("note")}
          />
          <PersonField id="photograph-by" value={person} onChange={setPerson} problem={problem("by")} />
        </div>
        <FormEnd sending={sending} words="Keep the photographs" />
      </form>
    </details>
  );
}
