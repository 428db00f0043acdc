import type { Role } from "../contract/ledger-entries.ts";
import {
  roles as allRoles,
  changePasswordInput,
  giveRolesInput,
  type PersonView,
  signInInput,
} from "../contract/people-schema.ts";
import { makeVerifier, matchesVerifier } from "../store/passwords.ts";
import { checkAgainstSchema } from "./check-against-schema.ts";
import { originOf } from "./entry-origin.ts";
import { InputError } from "./input-error.ts";
import type { Lab } from "./lab.ts";

/** Everybody whom the lab ever gave a role, with what holds now, in the order in which they came. */
export function peopleOf(lab: Pick<Lab, "store">): PersonView[] {
  const people = new Map<string, PersonView>();
  for (const { sequence, at, actor, body } of lab.store.ledger.entries({ kind: "roles-given" }))
    people.set(body.person, {
      ...{ person: body.person, roles: body.roles, why: body.why },
      ...{ hasPassword: lab.store.passwords.verifier(body.person) !== null },
      ...{ entry: sequence, at, by: actor },
    });
  return [...people.values()];
}

/** What a person may do; nothing for somebody unknown. */
export const rolesOf = (lab: Pick<Lab, "store">, person: string): readonly Role[] =>
  peopleOf(lab).find((one) => one.person === person)?.roles ?? [];

const folded = (name: string) => name.normalize("NFKC").trim().replace(/\s+/g, " ").toLowerCase();

/**
 * Gives a person roles, in place of those before, and a password where one is told.
 *
 * @throws InputError for a name that can be taken for another's, for roles with which nobody could sign in as administrator any
 * more, and for what the schema does not accept. Nothing is stored then
 */
export async function giveRoles(lab: Lab, value: unknown, where: string): Promise<PersonView> {
  const { person, roles, password, why = "", by } = checkAgainstSchema(giveRolesInput, value, where);
  const refuse = (field: string, problem: string): never => {
    throw new InputError(`${where}: ${field}: ${problem}`, [{ field, problem }]);
  };
  const people = peopleOf(lab);
  const alike = people.find((one) => one.person !== person && folded(one.person) === folded(person));
  if (alike !== undefined)
    refuse(
      "person",
      `found "${person}", which can be taken for "${alike.person}"; accepted is a name of its own`,
    );
  const known = people.find((one) => one.person === person);
  const canSignIn = password !== undefined || known?.hasPassword === true;
  if (!canSignIn && roles.length > 0) refuse("password", `is missing; ${person} has none yet`);
  const others = people.some(
    (one) => one.person !== person && one.hasPassword && one.roles.includes("administrator"),
  );
  if (!others && !(canSignIn && roles.includes("administrator")))
    refuse(
      "roles",
      `found ${roles.join(", ") || "none"}; ${people.length === 0 ? "the first person is" : "one person stays"} an administrator`,
    );
  const verifier = password === undefined ? null : await makeVerifier(password);
  const origin = originOf(lab, by);
  const ordered = allRoles.filter((role) => roles.includes(role));
  if (verifier !== null) lab.store.passwords.set(person, verifier, origin);
  lab.store.ledger.append("roles-given", { person, roles: ordered, why }, origin);
  return peopleOf(lab).find((one) => one.person === person) as PersonView;
}

/**
 * Signs a person in: the entry that says so, or null where name or password are not right; which of them is not told.
 *
 * @throws InputError for what the schema does not accept
 */
export async function signIn(
  lab: Lab,
  value: unknown,
  where: string,
): Promise<{ person: string; sequence: number } | null> {
  const { person, password } = checkAgainstSchema(signInInput, value, where);
  const matches = await matchesVerifier(password, lab.store.passwords.verifier(person));
  if (!matches || rolesOf(lab, person).length === 0) return null;
  const { sequence } = lab.store.ledger.append("signed-in", { person }, { actor: person });
  return { person, sequence };
}

/**
 * Changes the password of the lab's actor, who must know the old one.
 *
 * @throws InputError where the old one is not right, or the new one is not accepted
 */
export async function changePassword(lab: Lab, value: unknown, where: string): Promise<void> {
  const input = checkAgainstSchema(changePasswordInput, value, where);
  if (!(await matchesVerifier(input.old, lab.store.passwords.verifier(lab.actor)))) {
    const problem = "is not your password";
    throw new InputError(`${where}: old: ${problem}`, [{ field: "old", problem }]);
  }
  lab.store.passwords.set(lab.actor, await makeVerifier(input.new), originOf(lab));
}
