import { useEffect, useState } from "preact/hooks";
import { TextField } from "../forms/field.tsx";
import { useSending } from "../forms/use-sending.ts";
import { problemOfField } from "../server/request.ts";
import { addresses } from "../server/resources.ts";
import type { CaseWords } from "./case-words.ts";
import { fetchFile, fileName, type MadeFile } from "./fetch-file.ts";
import { MadeFileNote } from "./made-file.tsx";

/** Makes what is printed beside the exhibit: the letter to an owner, and labels with codes to stick on. */
export function SheetsForm({ subject, name }: Pick<CaseWords, "subject" | "name">) {
  const [to, setTo] = useState("");
  const [file, setFile] = useState<MadeFile | null>(null);
  const sending = useSending();
  useEffect(() => () => void (file !== null && URL.revokeObjectURL(file.address)), [file]);

  async function make(path: string, kind: "letter" | "labels") {
    setFile(null);
    await sending.send(async () => setFile(await fetchFile(path, `${kind}-${fileName(name)}.pdf`)), "");
  }

  return (
    <section class="panel" aria-labelledby="sheets-title">
      <h2 id="sheets-title">Letter and labels (PDF)</h2>
      <p class="hint">
        The letter says on one page, in plain words, what was tested, what it means and what to do next. The
        labels carry a code that the fields for scanning on these pages understand.
      </p>
      <div class="form">
        <div class="fields">
          <TextField
            id="letter-to"
            label="Whom the letter is for"
            value={to}
            onChange={setTo}
            problem={problemOfField(sending.problem, "to")}
          />
        </div>
        <p class="downloads">
          <button
            type="button"
            class="button"
            disabled={sending.sending}
            onClick={() =>
              void make(addresses.letter({ [subject.kind]: subject.id, to: to.trim() }), "letter")
            }
          >
            Make the letter
          </button>
          <button
            type="button"
            class="button"
            disabled={sending.sending}
            onClick={() => void make(addresses.labels({ [subject.kind]: subject.id }), "labels")}
          >
            Make the labels
          </button>
        </p>
        <MadeFileNote sending={sending} file={file} making="Making it" opens />
      </div>
    </section>
  );
}
