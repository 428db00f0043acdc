import { useState } from "preact/hooks";
import type { Role } from "../../src/contract/ledger-entries.ts";
import { type PersonView, passwordLength, roles, roleWords } from "../../src/contract/people-schema.ts";
import { PersonField, usePerson } from "../custody/person-field.tsx";
import { TextField, TickField } from "../forms/field.tsx";
import { FormEnd } from "../forms/form-end.tsx";
import { useSending } from "../forms/use-sending.ts";
import { problemOfField } from "../server/request.ts";
import { giveRoles } from "../server/resources.ts";
import { loadSession } from "../session/session.ts";

/** Gives a person roles in place of those before, with a password where one is typed. */
export function RolesForm({ people, onGiven }: { people: readonly PersonView[]; onGiven: () => void }) {
  const [person, setPerson] = useState("");
  const [given, setGiven] = useState<readonly Role[]>(
    people.length === 0 ? ["administrator", "operator"] : [],
  );
  const [password, setPassword] = useState("");
  const [why, setWhy] = useState("");
  const [by, setBy] = usePerson();
  const sending = useSending();
  const known = people.find((one) => one.person === person.trim());
  const problem = (field: string) => problemOfField(sending.problem, field);

  /** A known name brings its roles with it, so that one is changed without the others being lost. */
  function name(next: string) {
    setPerson(next);
    const found = people.find((one) => one.person === next.trim());
    if (found !== undefined) setGiven(found.roles);
  }

  async function send(event: Event) {
    event.preventDefault();
    const input = {
      ...{ person: person.trim(), roles: [...given], why, by },
      ...(password === "" ? {} : { password }),
    };
    if (!(await sending.send(() => giveRoles(input), "Given. It holds from now on."))) return;
    setPassword("");
    setWhy("");
    onGiven();
    await loadSession();
  }

  return (
    <section class="panel" aria-labelledby="roles-title">
      <h2 id="roles-title">Give a person roles</h2>
      <form noValidate onSubmit={send} class="form" aria-label="Give a person roles">
        <div class="fields">
          <TextField
            id="roles-person"
            label="Full name"
            value={person}
            onChange={name}
            required
            problem={problem("person")}
          />
          <TextField
            id="roles-password"
            label={
              known?.hasPassword === true
                ? "New password, where it is to change"
                : `Password, at least ${passwordLength.least} characters`
            }
            kind="password"
            value={password}
            onChange={setPassword}
            problem={problem("password")}
            fills="new-password"
          />
          <TextField id="roles-why" label="Why" value={why} onChange={setWhy} problem={problem("why")} />
          <PersonField id="roles-by" value={by} onChange={setBy} problem={problem("by")} />
        </div>
        <fieldset class="role-ticks">
          <legend>Roles, in place of those before; none shuts the person out</legend>
          {roles.map((role) => (
            <TickField
              key={role}
              checked={given.includes(role)}
              onChange={(checked) =>
                setGiven((before) => (checked ? [...before, role] : before.filter((one) => one !== role)))
              }
            >
              <strong>{role}</strong>: {roleWords[role]}
            </TickField>
          ))}
          {problem("roles") !== null && <p class="field-problem">{problem("roles")}</p>}
        </fieldset>
        <FormEnd sending={sending} words="Give these roles" />
      </form>
    </section>
  );
}
