import type { LedgerEntry } from "../contract/ledger-entries.ts";
import { largestStampBytes, type StampView } from "../contract/ledger-views.ts";
import { timeStampRequest } from "../exchange/time-stamp-request.ts";
import { readTimeStampResponse, type TimeStamp } from "../exchange/time-stamp-response.ts";
import { readStationKey } from "../store/station-key.ts";
import { originOf } from "./entry-origin.ts";
import { InputError } from "./input-error.ts";
import type { Lab } from "./lab.ts";
import { type Statement, statementAt, statements } from "./time-stamp-statement.ts";

/** A request for a time stamp over the ledger as it stands, to be sent to an authority by whatever way there is. */
export interface StampRequest extends Statement {
  /** DER, a file that ends in .tsq. */
  request: Uint8Array;
}

/**
 * Makes a request over the ledger's head. It is the same bytes until something is entered, and nothing is stored: the answer
 * names the statement that it belongs to.
 *
 * @throws StoreError `key` where the station's key is missing
 */
export function requestTimeStamp(lab: Pick<Lab, "store">): StampRequest {
  const statement = statementAt(lab, lab.store.ledger.head().sequence);
  if (statement === null) throw new InputError("the ledger is empty; there is nothing to be stamped");
  const imprint = Buffer.from(statement.imprint, "hex");
  return { ...statement, request: timeStampRequest(imprint, nonceOf(lab, statement)) };
}

/** A number that only this station can know before the request is seen, and can make again when the answer comes. */
function nonceOf({ store }: Pick<Lab, "store">, { text }: Statement): Uint8Array {
  const signed = readStationKey(store.dataDir).sign(Buffer.from(`asfound time stamp nonce 1\n${text}`));
  const nonce = Uint8Array.from(Buffer.from(signed.slice(0, 16), "hex"));
  nonce[0] = ((nonce[0] ?? 0) & 0x3f) | 0x40;
  return nonce;
}

/**
 * Stores an authority's answer in the ledger, after checking that it stamps a statement of this ledger, carries the nonce of the
 * request, and is signed by the certificate in it.
 *
 * @throws InputError saying what is wrong with it. Nothing is stored then
 */
export function acceptTimeStamp(lab: Lab, response: Uint8Array, where: string): StampView {
  if (response.length > largestStampBytes)
    throw new InputError(`${where}: found ${response.length} bytes; accepted are up to ${largestStampBytes}`);
  const reading = readTimeStampResponse(response);
  if (!reading.ok) throw new InputError(`${where}: ${reading.problem}`);
  const { imprint, nonce, time } = reading.stamp;
  const statement = statementWith(lab, imprint);
  if (statement === null)
    throw new InputError(
      `${where}: it stamps ${imprint}, which is no statement of this ledger; accepted is the answer to a request made here`,
    );
  const asked = Buffer.from(nonceOf(lab, statement)).toString("hex");
  if (nonce !== asked)
    throw new InputError(
      `${where}: its nonce is ${nonce ?? "missing"}; the request over entry ${statement.entries} had ${asked}`,
    );
  const text = Buffer.from(response).toString("base64");
  const twin = stampEntries(lab).find(({ body }) => body.response === text);
  if (twin !== undefined) throw new InputError(`${where}: it is stored already, by entry ${twin.sequence}`);
  const { entries, head } = statement;
  const entry = lab.store.ledger.append(
    "time-stamped",
    { entries, head, imprint, time, response: text },
    originOf(lab),
  );
  return viewOf(lab, entry, reading.stamp);
}

const stampEntries = (lab: Pick<Lab, "store">) => [...lab.store.ledger.entries({ kind: "time-stamped" })];

function statementWith({ store }: Pick<Lab, "store">, imprint: string): Statement | null {
  for (const one of statements(store.ledger.entries(), () => true)) if (one.imprint === imprint) return one;
  return null;
}

/** The time stamps in the ledger, oldest first. Those that cannot be read are left to `timeStampProblems`. */
export function stampViews(lab: Pick<Lab, "store">): StampView[] {
  return stampEntries(lab).flatMap((entry) => {
    const reading = readTimeStampResponse(Buffer.from(entry.body.response, "base64"));
    return reading.ok ? [viewOf(lab, entry, reading.stamp)] : [];
  });
}

function viewOf(
  { store }: Pick<Lab, "store">,
  { sequence, at, actor, body }: LedgerEntry<"time-stamped">,
  { nonce: _nonce, ...stamp }: TimeStamp,
): StampView {
  const newest = store.ledger.entry(body.entries)?.at ?? body.time;
  // Authorities give whole seconds, the ledger milliseconds.
  const behind = Date.parse(newest) - Date.parse(body.time);
  return {
    ...{ sequence, at, by: actor, entries: body.entries, head: body.head },
    ...stamp,
    remarks:
      behind > 1000
        ? [
            `The authority's time ${body.time} lies ${Math.round(behind / 1000)} s before entry ${body.entries}, dated ${newest} by the station's clock: one of the two clocks is wrong.`,
          ]
        : [],
  };
}

/**
 * Checks every time stamp of a ledger: that it stamps the statement of the entry that it names, and says what its entry says.
 * Whether the authority is to be trusted is for `openssl ts -verify` with its root.
 */
export function timeStampProblems(lab: Pick<Lab, "store">): string[] {
  const stamps = stampEntries(lab);
  const wanted = new Set(stamps.map(({ body }) => body.entries));
  const found = new Map<number, Statement>();
  for (const one of statements(lab.store.ledger.entries(), (sequence) => wanted.has(sequence)))
    found.set(one.entries, one);
  return stamps.flatMap((entry) => {
    const statement = entry.body.entries < entry.sequence ? found.get(entry.body.entries) : undefined;
    const problem = stampProblem(entry.body, statement);
    return problem === null ? [] : [`the time stamp of entry ${entry.sequence}: ${problem}`];
  });
}

/** What is wrong with a stored stamp, or null. */
export function stampProblem(
  body: LedgerEntry<"time-stamped">["body"],
  statement: Pick<Statement, "head" | "imprint"> | undefined,
): string | null {
  if (statement === undefined) return `there is no earlier entry ${body.entries}, over which it was made`;
  if (statement.head !== body.head) return `entry ${body.entries} is ${statement.head}, not ${body.head}`;
  const reading = readTimeStampResponse(Buffer.from(body.response, "base64"));
  if (!reading.ok) return reading.problem;
  const { imprint, time } = reading.stamp;
  if (imprint !== statement.imprint || imprint !== body.imprint)
    return `it stamps ${imprint}; the statement at entry ${body.entries} has the SHA-256 ${statement.imprint}`;
  return time === body.time ? null : `it says ${time}; its entry says ${body.time}`;
}
