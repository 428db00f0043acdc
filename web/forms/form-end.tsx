import { ProblemNote } from "../frame/problem-note.tsx";
import type { Sending } from "./use-sending.ts";

/** The end of a form: what is wrong or what came of it, and the button that sends. */
export function FormEnd({ sending, words }: { sending: Sending; words: string }) {
  return (
    <div class="form-close">
      <ProblemNote problem={sending.problem} />
      <p role="status" class="form-done">
        {sending.done}
      </p>
      <button type="submit" class="primary" disabled={sending.sending}>
        {words}
      </button>
    </div>
  );
}
