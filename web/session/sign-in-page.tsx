import { useState } from "preact/hooks";
import { StopButton, StopNote } from "../bench/stop-button.tsx";
import { TextField } from "../forms/field.tsx";
import { FormEnd } from "../forms/form-end.tsx";
import { useSending } from "../forms/use-sending.ts";
import { signIn } from "./session.ts";

/** Asks who is there. The stop works for everybody. */
export function SignInPage() {
  const [person, setPerson] = useState("");
  const [password, setPassword] = useState("");
  const sending = useSending();

  async function send(event: Event) {
    event.preventDefault();
    if (!(await sending.send(() => signIn(person.trim(), password), ""))) setPassword("");
  }

  return (
    <section class="panel sign-in" aria-labelledby="sign-in-title">
      <h1 id="sign-in-title">Sign in</h1>
      <p class="hint">
        What you enter is signed with your name. Whoever administers this lab gives names and passwords.
      </p>
      <form noValidate onSubmit={send} class="form" aria-label="Sign in">
        <div class="fields">
          <TextField
            id="sign-in-person"
            label="Full name"
            value={person}
            onChange={setPerson}
            required
            fills="username"
          />
          <TextField
            id="sign-in-password"
            label="Password"
            kind="password"
            value={password}
            onChange={setPassword}
            required
            fills="current-password"
          />
        </div>
        <FormEnd sending={sending} words="Sign in" />
      </form>
      <div class="sign-in-stop">
        <p>A test that runs can be stopped without signing in.</p>
        <StopButton />
        <StopNote />
      </div>
    </section>
  );
}
