import { useState } from "preact/hooks";
import { largestStampBytes } from "../../src/contract/ledger-views.ts";
import { FormEnd } from "../forms/form-end.tsx";
import { useSending } from "../forms/use-sending.ts";
import { problemOfField } from "../server/request.ts";
import { keepTimeStamp } from "../server/resources.ts";

async function base64Of(file: Blob): Promise<string> {
  const bytes = new Uint8Array(await file.arrayBuffer());
  return btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(""));
}

/** What is wrong with a file before it is sent, or null. What is in it, the server checks. */
function fileProblem(file: File | undefined): string | null {
  if (file === undefined) return "Choose the authority's answer, a file .tsr.";
  if (file.size > 0 && file.size <= largestStampBytes) return null;
  return `${file.name} has ${file.size} bytes; accepted are 1 to ${largestStampBytes}.`;
}

/** Keeps an authority's answer in the ledger, after the server has checked that it answers a request made here. */
export function StampAnswerForm({ testing, onKept }: { testing: boolean; onKept: () => void }) {
  const [file, setFile] = useState<File | undefined>(undefined);
  const sending = useSending();
  const problem = problemOfField(sending.problem, "file");

  async function send(event: Event) {
    event.preventDefault();
    const form = event.currentTarget as HTMLFormElement;
    const found = fileProblem(file);
    if (file === undefined || found !== null)
      return sending.refuse([{ field: "file", problem: found ?? "" }]);
    const keep = async () => keepTimeStamp(await base64Of(file));
    if (!(await sending.send(keep, `${file.name} is kept in the ledger.`))) return;
    setFile(undefined);
    form.reset();
    onKept();
  }

  return (
    <form noValidate onSubmit={send} class="form" aria-label="Keep the authority's answer">
      <h3>2. The authority's answer</h3>
      <div class="field">
        <label for="stamp-file">File of the answer, .tsr</label>
        <input
          id="stamp-file"
          type="file"
          accept=".tsr,application/timestamp-reply"
          disabled={testing}
          aria-invalid={problem !== null}
          aria-describedby={problem === null ? undefined : "stamp-file-problem"}
          onChange={(event) => setFile(event.currentTarget.files?.[0])}
        />
        {problem !== null && (
          <p class="field-problem" id="stamp-file-problem">
            {problem}
          </p>
        )}
      </div>
      <FormEnd sending={sending} words="Keep the answer" />
    </form>
  );
}
