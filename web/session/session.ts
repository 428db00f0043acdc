import type { SessionView } from "../../src/contract/people-schema.ts";
import { live } from "../live/live.ts";
import { createStore } from "../live/store.ts";
import { request, signInWanted } from "../server/request.ts";

/** Who is at this page; null until the server has told. */
export const session = createStore<SessionView | null>(null);

/** Whether the page may show anything: nobody needs to sign in, or somebody did. */
export const mayEnter = (one: SessionView | null): boolean =>
  one !== null && (!one.demanded || one.person !== null);

function keep(next: SessionView): void {
  session.set(next);
  if (mayEnter(next)) live.open();
  else live.close();
}

/** Asks the server who is at this page. While it does not answer, the page says so by itself. */
export async function loadSession(): Promise<void> {
  const answer = await request<SessionView>("GET", "/api/session").catch(() => null);
  if (answer !== null) keep(answer);
  else if (session.get() === null)
    keep({ demanded: false, person: null, roles: [], until: null, bench: null });
}

/** @throws RequestFailure where name or password are not right */
export async function signIn(person: string, password: string): Promise<void> {
  keep(await request<SessionView>("POST", "/api/session", { person, password }));
}

/** Signs out; the bench, if it was driven from here, is free then. */
export async function signOut(): Promise<void> {
  keep(await request<SessionView>("POST", "/api/session/end"));
}

/** Gives the bench back to whoever takes it next. */
export async function giveBenchBack(): Promise<void> {
  keep(await request<SessionView>("POST", "/api/session/bench/give-back"));
}

/** @throws RequestFailure where the old password is not right, or the new one is not accepted */
export async function changePassword(old: string, next: string): Promise<void> {
  keep(await request<SessionView>("POST", "/api/session/password", { old, new: next }));
}

// The session ended somewhere else: it is asked for again, and the page asks to sign in.
signInWanted.watch((wanted) => {
  if (!wanted) return;
  signInWanted.set(false);
  void loadSession();
});
// Who drives the bench changes with the tests; somebody else may be the first whom the lab knows.
live.shot.watch(() => void loadSession());
live.connection.watch(() => void loadSession());
