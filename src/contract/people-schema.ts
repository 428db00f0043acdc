import Type, { type Static } from "typebox";
import type { Role } from "./ledger-entries.ts";
import { person, prose, words } from "./record-fields.ts";

/** All roles, in the order in which they are shown. */
export const roles = ["viewer", "operator", "reviewer", "administrator"] as const satisfies readonly Role[];

/** What each role lets a person do, in words. */
export const roleWords: Readonly<Record<Role, string>> = {
  viewer: "reads everything and makes exhibits, as everyone who signs in does",
  operator: "enters records and drives the bench",
  reviewer: "reviews and releases records, and confirms limit sets",
  administrator: "decides for the lab, and who may do what",
};

/** Fewest and most characters of a password: our own choice; NIST SP 800-63B asks for at least 8 and no rules of composition. */
export const passwordLength = { least: 12, most: 200 } as const;

const newPassword = Type.String({
  minLength: passwordLength.least,
  maxLength: passwordLength.most,
  description: `password of ${passwordLength.least} to ${passwordLength.most} characters`,
});

/** POST /api/people: what a person may do from now on; with a password, that too. Answer 201: PersonView. */
export const giveRolesInput = Type.Object(
  {
    person: words("the person's full name", 100),
    roles: Type.Array(Type.Enum([...roles]), {
      uniqueItems: true,
      maxItems: roles.length,
      description: "none at all shuts the person out",
    }),
    password: Type.Optional(newPassword),
    why: Type.Optional(prose("why", 1000)),
    by: person,
  },
  { additionalProperties: false },
);
export type GiveRoles = Static<typeof giveRolesInput>;

/** POST /api/session: sign in. Answer 201: SessionView, and a cookie. */
export const signInInput = Type.Object(
  {
    person: words("full name", 100),
    password: Type.String({ minLength: 1, maxLength: passwordLength.most, description: "password" }),
  },
  { additionalProperties: false },
);
export type SignIn = Static<typeof signInInput>;

/** POST /api/session/password: the signed-in person's own password. Answer 200: SessionView. */
export const changePasswordInput = Type.Object(
  { old: Type.String({ minLength: 1, maxLength: passwordLength.most }), new: newPassword },
  { additionalProperties: false },
);
export type ChangePassword = Static<typeof changePasswordInput>;

/** A person known to the lab. `entry` is the one that gave the roles, by whom and when (UTC). GET /api/people gives a list. */
export interface PersonView {
  person: string;
  roles: Role[];
  hasPassword: boolean;
  entry: number;
  at: string;
  by: string;
  why: string;
}

/** Who is at this page. GET /api/session. */
export interface SessionView {
  /** Whether one must sign in: as soon as the lab knows anybody. */
  demanded: boolean;
  person: string | null;
  roles: Role[];
  /** When the session ends by itself, UTC. */
  until: string | null;
  /** Who drives the bench; `mine` where it is whoever asks. */
  bench: { person: string; since: string; mine: boolean } | null;
}
