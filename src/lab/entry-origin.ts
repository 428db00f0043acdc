import type { EntryOrigin } from "../store/ledger.ts";
import type { Lab } from "./lab.ts";

/** Whose entry it is: the lab's actor, or who says so by name; under the sign-in of whoever is signed in. */
export const originOf = ({ actor, signIn }: Lab, by: string = actor): EntryOrigin => ({
  actor: by,
  ...(signIn === undefined ? {} : { signIn }),
});
