import { randomBytes } from "node:crypto";
import type { SessionView } from "../contract/people-schema.ts";

/** Somebody who signed in. `signIn` is the sequence of the ledger's entry that says so; times are of the server's clock. */
export interface Session {
  person: string;
  signIn: number;
  untilMs: number;
  seenMs: number;
}

/** A working day: our own choice. */
const lifeMs = 12 * 3600_000;
/** After so long without a request another operator may take the bench, where no test runs on it. */
const benchIdleMs = 15 * 60_000;

/**
 * Who is signed in, and who of them drives the bench: at most one. Kept in memory only, so that whoever starts the program again
 * has everybody sign in again.
 */
export class Sessions {
  readonly #now: () => Date;
  readonly #byToken = new Map<string, Session>();
  #driver: { session: Session; since: string } | null = null;

  constructor(now: () => Date) {
    this.#now = now;
  }

  /** Begins a session and gives the token by which its browser is known again. */
  begin(person: string, signIn: number): string {
    const token = randomBytes(32).toString("base64url");
    const nowMs = this.#now().getTime();
    this.#byToken.set(token, { person, signIn, untilMs: nowMs + lifeMs, seenMs: nowMs });
    return token;
  }

  /** The session of a token while it lasts, or null. Asking counts as a sign of life unless `quiet`. */
  find(token: string | undefined, quiet = false): Session | null {
    const session = token === undefined ? undefined : this.#byToken.get(token);
    if (session === undefined) return null;
    const nowMs = this.#now().getTime();
    if (nowMs >= session.untilMs) {
      this.#drop(session);
      return null;
    }
    if (!quiet) session.seenMs = nowMs;
    return session;
  }

  /** Ends every session of a person, but for one that stays. */
  endAllOf(person: string, stays: Session | null = null): void {
    for (const session of [...this.#byToken.values()])
      if (session.person === person && session !== stays) this.#drop(session);
  }

  /** Ends one session. */
  end(session: Session): void {
    this.#drop(session);
  }

  /**
   * Takes the bench for a session, if nobody else has it. Whoever has it keeps it until it is given back, the session ends, or
   * nothing was heard of it for a quarter of an hour while no test runs.
   *
   * @returns null, or whose it is
   */
  takeBench(session: Session, testRuns: boolean): string | null {
    const driver = this.#holder(testRuns);
    if (driver !== null && driver.session !== session) return driver.session.person;
    this.#driver ??= { session, since: this.#now().toISOString() };
    return null;
  }

  /** Gives the bench back, where the session has it. */
  giveBenchBack(session: Session): void {
    if (this.#driver?.session === session) this.#driver = null;
  }

  /** Who drives the bench, as seen by one session. */
  bench(own: Session | null, testRuns: boolean): SessionView["bench"] {
    const driver = this.#holder(testRuns);
    return driver === null
      ? null
      : { person: driver.session.person, since: driver.since, mine: driver.session === own };
  }

  #holder(testRuns: boolean): { session: Session; since: string } | null {
    const driver = this.#driver;
    if (driver === null) return null;
    const { untilMs, seenMs } = driver.session;
    const nowMs = this.#now().getTime();
    if (!testRuns && (nowMs >= untilMs || nowMs - seenMs >= benchIdleMs)) this.#driver = null;
    return this.#driver;
  }

  #drop(session: Session): void {
    for (const [token, one] of this.#byToken) if (one === session) this.#byToken.delete(token);
    this.giveBenchBack(session);
  }
}
