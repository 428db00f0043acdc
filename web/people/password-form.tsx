import { useState } from "preact/hooks";
import { passwordLength } from "../../src/contract/people-schema.ts";
import { TextField } from "../forms/field.tsx";
import { FormEnd } from "../forms/form-end.tsx";
import { useSending } from "../forms/use-sending.ts";
import { problemOfField } from "../server/request.ts";
import { changePassword } from "../session/session.ts";

/** Changes the password of whoever is signed in. */
export function PasswordForm() {
  const [old, setOld] = useState("");
  const [next, setNext] = useState("");
  const sending = useSending();

  async function send(event: Event) {
    event.preventDefault();
    const words = "Changed. Your other sessions have ended.";
    if (!(await sending.send(() => changePassword(old, next), words))) return;
    setOld("");
    setNext("");
  }

  return (
    <section class="panel" aria-labelledby="password-title">
      <h2 id="password-title">Your own password</h2>
      <form noValidate onSubmit={send} class="form" aria-label="Change your password">
        <div class="fields">
          <TextField
            id="password-old"
            label="Password until now"
            kind="password"
            value={old}
            onChange={setOld}
            required
            problem={problemOfField(sending.problem, "old")}
            fills="current-password"
          />
          <TextField
            id="password-new"
            label={`New password, at least ${passwordLength.least} characters`}
            kind="password"
            value={next}
            onChange={setNext}
            required
            problem={problemOfField(sending.problem, "new")}
            fills="new-password"
          />
        </div>
        <FormEnd sending={sending} words="Change the password" />
      </form>
    </section>
  );
}
