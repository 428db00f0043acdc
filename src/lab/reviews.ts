import type { LedgerEntry, ReviewSubject } from "../contract/ledger-entries.ts";
import { type IssueView, type ReviewView, releaseInput, reviewInput } from "../contract/review-schema.ts";
import { signatureWords } from "../contract/signature-words.ts";
import { checkAgainstSchema } from "./check-against-schema.ts";
import { originOf } from "./entry-origin.ts";
import { InputError } from "./input-error.ts";
import type { Lab } from "./lab.ts";
import { recordEntries } from "./reviews-record.ts";
import { knownShot } from "./shot-view.ts";

type Reader = Pick<Lab, "store">;

const same = (a: string, b: string): boolean => a.trim().toLowerCase() === b.trim().toLowerCase();

/**
 * Where the record of a shot or a specimen stands: reviewed and released by whom, and whether an amendment has superseded what
 * was released.
 *
 * @throws NotFoundError
 */
export function reviewView(lab: Reader, about: ReviewSubject): ReviewView {
  const entries = recordEntries(lab, about);
  const mine = (entry: { body: { about: ReviewSubject } }) =>
    entry.body.about.kind === about.kind && entry.body.about.id === about.id;
  const reviews = [...lab.store.ledger.entries({ kind: "record-reviewed" })].filter(mine);
  const releases = [...lab.store.ledger.entries({ kind: "record-released" })].filter(mine);
  const issues = releases.map((release, at) =>
    issueView(release, reviews, entries, releases[at + 1]?.body.issue ?? null),
  );
  const lastReview = reviews.at(-1);
  const lastIssue = issues.at(-1);
  const since = entries
    .filter((entry) => entry.sequence > (lastIssue?.sequence ?? Number.POSITIVE_INFINITY))
    .map((entry) => entry.sequence);
  const isNewer = lastReview !== undefined && lastReview.sequence > (lastIssue?.sequence ?? 0);
  return {
    about,
    ...standing(lastIssue, isNewer ? lastReview : undefined, entries),
    madeBy: makers(entries),
    reviews: reviews.map(({ sequence, at, actor, body, ...more }) => ({
      ...{ sequence, at, by: actor, review: body },
      ...signInOf(more),
    })),
    issues,
    since,
  };
}

const signInOf = ({ signIn }: { signIn?: number }) => (signIn === undefined ? {} : { signIn });

/** Who made the entries of a record, each once. */
const makers = (entries: readonly LedgerEntry[]): string[] => [...new Set(entries.map((one) => one.actor))];

function issueView(
  { sequence, at, actor, body, ...more }: LedgerEntry<"record-released">,
  reviews: readonly LedgerEntry<"record-reviewed">[],
  entries: readonly LedgerEntry[],
  next: number | null,
): IssueView {
  const amendment = entries.find((one) => one.kind === "entry-amended" && one.sequence > sequence);
  const reviewer = reviews.find((one) => one.sequence === body.review)?.actor ?? "";
  const replaced =
    amendment === undefined
      ? next === null
        ? null
        : `replaced by issue ${next}`
      : `superseded by the amendment of entry ${(amendment as LedgerEntry<"entry-amended">).body.amends}, entry ${amendment.sequence} at ${amendment.at}${next === null ? "" : `, and replaced by issue ${next}`}`;
  return {
    ...{ issue: body.issue, sequence, at, by: actor, ...signInOf(more), note: body.note },
    review: { sequence: body.review, by: reviewer },
    state: replaced === null ? "in force" : "superseded",
    words: `Issue ${body.issue}, released by ${actor} (${signatureWords(more)}) at ${at}${replaced === null ? "" : `: ${replaced}`}.`,
  };
}

function standing(
  issue: IssueView | undefined,
  review: LedgerEntry<"record-reviewed"> | undefined,
  entries: readonly LedgerEntry[],
): Pick<ReviewView, "state" | "words"> {
  if (review?.body.finding === "returned")
    return { state: "returned", words: `Returned by ${review.actor}: ${review.body.note}` };
  const later = review === undefined ? undefined : entries.find((one) => one.sequence > review.body.through);
  if (review !== undefined && later === undefined)
    return { state: "reviewed", words: `Accepted by ${review.actor}; not released yet.` };
  if (issue !== undefined)
    return issue.state === "in force"
      ? { state: "released", words: issue.words }
      : { state: "superseded", words: `${issue.words} The record is to be reviewed and released again.` };
  return review === undefined || later === undefined
    ? { state: "not reviewed", words: "Nobody has reviewed it." }
    : {
        state: "not reviewed",
        words: `${review.actor} accepted it as it stood at entry ${review.body.through}; entry ${later.sequence} (${later.kind}) came after that.`,
      };
}

/**
 * A second person has checked a record as it stands.
 *
 * @throws InputError where it is reviewed by who made any of it, where a shot is still open, or where a return has no note;
 * NotFoundError. Nothing is stored then
 */
export function reviewRecord(lab: Lab, value: unknown, where: string): ReviewView {
  const { about, finding, note = "", by } = checkAgainstSchema(reviewInput, value, where);
  const entries = recordEntries(lab, about);
  refuseOwn(entries, by, about, where, "reviewed");
  refuseOpen(lab, about, where);
  if (finding === "returned" && note.trim() === "")
    throw new InputError(`${where}: note: is empty; a record is returned with what is to be mended`, [
      { field: "note", problem: "is empty; a record is returned with what is to be mended" },
    ]);
  const through = lab.store.ledger.head().sequence;
  lab.store.ledger.append("record-reviewed", { about, through, finding, note }, originOf(lab, by));
  return reviewView(lab, about);
}

/**
 * Gives out a reviewed record as its next issue.
 *
 * @throws InputError where nobody has reviewed it, it was returned, it has changed since the review, its issue is in force
 * already, or it is released by who made any of it; NotFoundError. Nothing is stored then
 */
export function releaseRecord(lab: Lab, value: unknown, where: string): ReviewView {
  const { about, note = "", by } = checkAgainstSchema(releaseInput, value, where);
  refuseOwn(recordEntries(lab, about), by, about, where, "released");
  const { state, words, reviews, issues, since } = reviewView(lab, about);
  if (issues.at(-1)?.state === "in force" && since.length === 0)
    throw new InputError(
      `${where}: ${about.kind} ${about.id} is released already, and nothing came since: ${issues.at(-1)?.words ?? ""}`,
    );
  const review = reviews.at(-1);
  if (state !== "reviewed" || review === undefined)
    throw new InputError(`${where}: ${about.kind} ${about.id} is ${state}: ${words}`);
  const issue = (issues.at(-1)?.issue ?? 0) + 1;
  lab.store.ledger.append(
    "record-released",
    { about, issue, review: review.sequence, note },
    originOf(lab, by),
  );
  return reviewView(lab, about);
}

function refuseOwn(
  entries: readonly LedgerEntry[],
  by: string,
  about: ReviewSubject,
  where: string,
  what: string,
): void {
  const own = entries.find((one) => same(one.actor, by));
  if (own === undefined) return;
  const problem = `${by} made entry ${own.sequence} (${own.kind}) of ${about.kind} ${about.id}; a record is ${what} by a second person`;
  throw new InputError(`${where}: by: ${problem}`, [{ field: "by", problem }]);
}

function refuseOpen(lab: Reader, about: ReviewSubject, where: string): void {
  const open =
    about.kind === "shot"
      ? knownShot(lab, about.id).closed === null
      : lab.store.records.openShots().some((shot) => shot.specimen === about.id);
  if (open) throw new InputError(`${where}: a shot of ${about.kind} ${about.id} is still open`);
}
