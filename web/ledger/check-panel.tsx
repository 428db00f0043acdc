import { useState } from "preact/hooks";
import type { LedgerCheck } from "../../src/contract/ledger-views.ts";
import { TextField } from "../forms/field.tsx";
import { useSending } from "../forms/use-sending.ts";
import { WarningGlyph } from "../frame/banners.tsx";
import { ProblemNote } from "../frame/problem-note.tsx";
import { problemOfField } from "../server/request.ts";
import { checkLedger } from "../server/resources.ts";
import { CopyText } from "./copy-text.tsx";

/** The head of the ledger, to be kept elsewhere, and the check of everything in the data directory. */
export function CheckPanel({ head, entries }: { head: string | null; entries: number | null }) {
  const [known, setKnown] = useState("");
  const [check, setCheck] = useState<LedgerCheck | null>(null);
  const sending = useSending();

  async function send(event: Event) {
    event.preventDefault();
    const kept = known.trim().toLowerCase();
    setCheck(null);
    if (kept !== "" && !/^[0-9a-f]{64}$/.test(kept)) {
      sending.refuse([
        {
          field: "head",
          problem: `Found ${kept.length} characters; a head is 64 digits from 0 to 9 and a to f.`,
        },
      ]);
      return;
    }
    await sending.send(async () => setCheck(await checkLedger(kept)), "");
  }

  return (
    <section class="panel" aria-labelledby="check-title">
      <h2 id="check-title">Head and check</h2>
      <p class="hint">
        Every entry holds the hash of the one before, so the head stands for all of them. Print it, mail it or
        read it to somebody: nothing before it can then be changed unseen.
      </p>
      <div class="head-line">
        <span>Head{entries === null ? "" : `, entry ${entries}`}</span>
        <code class="hash">{head ?? ""}</code>
        {head !== null && <CopyText text={head} words="Copy the head" />}
      </div>
      <form noValidate onSubmit={send} class="check-form" aria-label="Check the ledger">
        <TextField
          id="check-head"
          label="A head that you kept, or nothing"
          value={known}
          onChange={setKnown}
          problem={problemOfField(sending.problem, "head")}
        />
        <button type="submit" class="primary" disabled={sending.sending}>
          Check now
        </button>
      </form>
      <ProblemNote problem={sending.problem} />
      <div role="status">
        {sending.sending && (
          <p class="waiting">
            <progress aria-label="Check under way" /> Checking every entry, signature, sample and photograph.
          </p>
        )}
        {check !== null && <CheckResult check={check} />}
      </div>
    </section>
  );
}

function CheckResult({ check }: { check: LedgerCheck }) {
  if (check.ok)
    return (
      <p class="form-done check-found">
        ✓ Nothing was altered: {check.entries} entries with their chain and signatures, the samples of every
        test, the photographs, and all tables made from them. Checked in {check.seconds.toFixed(1)} s.
      </p>
    );
  return (
    <div class="check-found">
      <p class="problem" role="alert">
        <WarningGlyph />
        <span>
          <strong>Something is not as it was written.</strong> Leave the data as it is, make a copy, and look
          for its backup.
        </span>
      </p>
      <ol class="reasons">
        {check.problems.map((problem) => (
          <li key={problem}>{problem}</li>
        ))}
      </ol>
    </div>
  );
}
