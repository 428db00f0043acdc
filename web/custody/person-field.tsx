import { useState } from "preact/hooks";
import { TextField } from "../forms/field.tsx";
import { useStore } from "../live/store.ts";
import { session } from "../session/session.ts";

const key = "asfound-person";

/** Who makes an entry: who is signed in, else the name typed last, kept in this browser so that it is typed once. */
export function usePerson(): [string, (name: string) => void] {
  const signedIn = useStore(session)?.person ?? null;
  const [typed, setTyped] = useState(() => localStorage.getItem(key) ?? "");
  return [
    signedIn ?? typed,
    (name) => {
      localStorage.setItem(key, name);
      setTyped(name);
    },
  ];
}

/** Under which name an entry is made. Nothing is asked of who is signed in. */
export function PersonField({
  id,
  value,
  onChange,
  problem,
}: {
  id: string;
  value: string;
  onChange: (name: string) => void;
  problem: string | null;
}) {
  const signedIn = useStore(session)?.person ?? null;
  if (signedIn !== null)
    return (
      <div class="field">
        <span class="field-label">Signed by</span>
        <p class="signed-by" id={id}>
          {signedIn}, signed in
        </p>
        {problem !== null && <p class="field-problem">{problem}</p>}
      </div>
    );
  return (
    <TextField
      id={id}
      label="Entered by, full name"
      value={value}
      onChange={onChange}
      required
      problem={problem}
    />
  );
}
