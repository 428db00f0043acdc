import { useState } from "preact/hooks";
import type { Problem, SpecimenView } from "../../src/contract/http.ts";
import { ProblemNote } from "../frame/problem-note.tsx";
import { problemOf } from "../server/request.ts";
import { moveHandle } from "../server/resources.ts";

/** Writes down that the handle was moved. This ends the as-found state, so it says so before it is sent. */
export function HandleForm({ specimen, onMoved }: { specimen: SpecimenView; onMoved: () => void }) {
  const [operations, setOperations] = useState("1");
  const [note, setNote] = useState("");
  const [problem, setProblem] = useState<Problem | null>(null);
  const [open, setOpen] = useState(false);

  async function send(event: Event) {
    event.preventDefault();
    try {
      await moveHandle(specimen.id, Number(operations), note);
      setOpen(false);
      setNote("");
      onMoved();
    } catch (error) {
      setProblem(problemOf(error));
    }
  }

  return (
    <details class="handle-form" open={open} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>Handle moved</summary>
      <form noValidate onSubmit={send}>
        <p>
          {specimen.state.kind === "as-found"
            ? "From then on the specimen is no longer as found. This cannot be taken back."
            : "It is added to the operations written down so far."}
        </p>
        <div class="field">
          <label for="operations">Operations, off and on again counts as 1</label>
          <input
            id="operations"
            inputMode="numeric"
            value={operations}
            onInput={(event) => setOperations(event.currentTarget.value)}
          />
        </div>
        <div class="field">
          <label for="handle-note">Why, and by whom</label>
          <input id="handle-note" value={note} onInput={(event) => setNote(event.currentTarget.value)} />
        </div>
        <ProblemNote problem={problem} />
        <button type="submit">Write it down</button>
      </form>
    </details>
  );
}
