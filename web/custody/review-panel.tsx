import { useState } from "preact/hooks";
import type { ReviewSubject } from "../../src/contract/ledger-entries.ts";
import type { ReviewView } from "../../src/contract/review-schema.ts";
import { signatureWords } from "../../src/contract/signature-words.ts";
import { ChoiceField, LongField } from "../forms/field.tsx";
import { FormEnd } from "../forms/form-end.tsx";
import { useSending } from "../forms/use-sending.ts";
import { ProblemNote } from "../frame/problem-note.tsx";
import { routeTo } from "../routing.ts";
import { problemOfField } from "../server/request.ts";
import { addresses, releaseRecord, reviewRecord } from "../server/resources.ts";
import { useResource } from "../server/use-resource.ts";
import { momentWords } from "../words/quantities.ts";
import { withLocalTimes } from "./chain-panel.tsx";
import { PersonField, usePerson } from "./person-field.tsx";

const stateNames: Readonly<Record<ReviewView["state"], string>> = {
  "not reviewed": "Not reviewed",
  returned: "Returned",
  reviewed: "Reviewed",
  released: "Released",
  superseded: "Superseded",
};

/** Where a record stands, with the number of its newest issue. */
function stateWords({ state, issues }: ReviewView): string {
  const issue = issues.at(-1)?.issue;
  return issue !== undefined && (state === "released" || state === "superseded")
    ? `${stateNames[state]}: issue ${issue}`
    : stateNames[state];
}

/** Where the record of a specimen or of a shot stands, what was found in it, its issues; and the next step for a second person. */
export function ReviewPanel({ about }: { about: ReviewSubject }) {
  const review = useResource<ReviewView>(addresses.review(about));
  const view = review.value;
  return (
    <section class="panel" aria-labelledby="review-title">
      <h2 id="review-title">Review and release</h2>
      <ProblemNote problem={review.problem} />
      {view !== null && (
        <>
          <p role="status">
            <span class={view.state === "released" ? "standing standing-firm" : "standing"}>
              {stateWords(view)}
            </span>
            . {withLocalTimes(view.words)}
          </p>
          <p class="hint">
            A second person reviews and releases it. So far it was made by: {view.madeBy.join(", ")}
          </p>
          {view.since.length > 0 && (
            <p>
              After the newest release came{" "}
              {view.since.map((sequence, at) => (
                <span key={sequence}>
                  {at === 0 ? "" : ", "}
                  <a href={routeTo("ledger", String(sequence))}>entry {sequence}</a>
                </span>
              ))}
              .
            </p>
          )}
          {view.reviews.length + view.issues.length > 0 && (
            <ul class="reasons">
              {view.reviews.map(({ sequence, at, by, review: { finding, note }, ...more }) => (
                <li key={sequence}>
                  {momentWords(at)}: {finding} by {by} ({signatureWords(more)})
                  {note === "" ? "" : `: ${note}`} (
                  <a href={routeTo("ledger", String(sequence))}>entry {sequence}</a>)
                </li>
              ))}
              {view.issues.map((issue) => (
                <li key={issue.sequence}>
                  {withLocalTimes(issue.words)} {issue.note}
                </li>
              ))}
            </ul>
          )}
          {view.state === "reviewed" ? (
            <ReleaseForm view={view} onDone={review.reload} />
          ) : (
            <ReviewForm view={view} onDone={review.reload} />
          )}
        </>
      )}
    </section>
  );
}

function ReviewForm({ view, onDone }: { view: ReviewView; onDone: () => void }) {
  const [finding, setFinding] = useState<"accepted" | "returned">("accepted");
  const [note, setNote] = useState("");
  const [person, setPerson] = usePerson();
  const sending = useSending();
  async function send(event: Event) {
    event.preventDefault();
    const review = { about: view.about, finding, note, by: person };
    if (!(await sending.send(() => reviewRecord(review), "The review is written down."))) return;
    setNote("");
    onDone();
  }
  return (
    <details>
      <summary>Review it</summary>
      <form noValidate onSubmit={send} class="form" aria-label="Review the record">
        <div class="fields">
          <ChoiceField
            id="review-finding"
            label="Found"
            value={finding}
            onChange={(value) => setFinding(value as "accepted" | "returned")}
            choices={[
              ["accepted", "Accepted as it stands"],
              ["returned", "Returned, to be mended"],
            ]}
          />
          <PersonField
            id="review-by"
            value={person}
            onChange={setPerson}
            problem={problemOfField(sending.problem, "by")}
          />
          <LongField
            id="review-note"
            label="What was checked, or what is to be mended"
            value={note}
            rows={2}
            wide
            onChange={setNote}
            problem={problemOfField(sending.problem, "note")}
          />
        </div>
        <FormEnd sending={sending} words="Write down the review" />
      </form>
    </details>
  );
}

function ReleaseForm({ view, onDone }: { view: ReviewView; onDone: () => void }) {
  const [note, setNote] = useState("");
  const [person, setPerson] = usePerson();
  const sending = useSending();
  async function send(event: Event) {
    event.preventDefault();
    const release = { about: view.about, note, by: person };
    if (!(await sending.send(() => releaseRecord(release), "Released."))) return;
    setNote("");
    onDone();
  }
  return (
    <form noValidate onSubmit={send} class="form" aria-label="Release the record">
      <div class="fields">
        <LongField id="release-note" label="Note" value={note} rows={2} onChange={setNote} />
        <PersonField
          id="release-by"
          value={person}
          onChange={setPerson}
          problem={problemOfField(sending.problem, "by")}
        />
      </div>
      <FormEnd sending={sending} words={`Release issue ${view.issues.length + 1}`} />
    </form>
  );
}
