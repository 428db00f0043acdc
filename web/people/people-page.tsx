import type { PersonView } from "../../src/contract/people-schema.ts";
import { ProblemNote } from "../frame/problem-note.tsx";
import { useStore } from "../live/store.ts";
import { addresses } from "../server/resources.ts";
import { useResource } from "../server/use-resource.ts";
import { session } from "../session/session.ts";
import { PasswordForm } from "./password-form.tsx";
import { RolesForm } from "./roles-form.tsx";

/** Who may sign in to this lab, and what for. */
export function PeoplePage() {
  const view = useStore(session);
  const people = useResource<PersonView[]>(addresses.people);
  const list = people.value ?? [];
  const decides = view?.demanded === false || view?.roles.includes("administrator") === true;
  return (
    <div class="record">
      <section class="panel" aria-labelledby="people-title">
        <h1 id="people-title">People</h1>
        <ProblemNote problem={people.problem} />
        {people.value !== null && list.length === 0 ? (
          <p>
            Nobody has to sign in yet: whoever is at this computer does everything, and names are typed. From
            the first person on everybody signs in, and entries are signed with the name of who is signed in.
            The first person is an administrator.
          </p>
        ) : (
          <div class="table-scroll">
            <table>
              <thead>
                <tr>
                  <th scope="col">Person</th>
                  <th scope="col">May</th>
                  <th scope="col">Given by</th>
                  <th scope="col">At, UTC</th>
                  <th scope="col">Why</th>
                </tr>
              </thead>
              <tbody>
                {list.map((one) => (
                  <tr key={one.person}>
                    <th scope="row">{one.person}</th>
                    <td>{one.roles.join(", ") || "nothing: shut out"}</td>
                    <td>{one.by}</td>
                    <td class="figures">{one.at.slice(0, 16).replace("T", " ")}</td>
                    <td>{one.why}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
        )}
      </section>
      {decides && <RolesForm people={list} onGiven={people.reload} />}
      {view !== null && view.person !== null && <PasswordForm />}
    </div>
  );
}
