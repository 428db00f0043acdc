import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { ReviewSubject } from "../../src/contract/ledger-entries.ts";
import { amendEntry } from "../../src/lab/amendments.ts";
import { addCustodyEvent } from "../../src/lab/custody.ts";
import { releaseRecord, reviewRecord, reviewView } from "../../src/lab/reviews.ts";
import { knownSpecimen } from "../../src/lab/specimen-view.ts";
import { RecordedLab } from "./recorded-lab.ts";

let place: RecordedLab;
let id = "";
let shot = "";
beforeEach(() => {
  place = new RecordedLab();
  id = place.receive({ condition: "claen" });
  shot = place.shot(id, { at: 0, multiple: 2, seconds: 30 });
});
afterEach(() => place.remove());

const ofShot = (): ReviewSubject => ({ kind: "shot", id: shot });
const ofSpecimen = (): ReviewSubject => ({ kind: "specimen", id });
const review = (about: ReviewSubject, more: object = {}) =>
  reviewRecord(place.lab, { about, finding: "accepted", by: "Second", ...more }, "review");
const release = (about: ReviewSubject, more: object = {}) =>
  releaseRecord(place.lab, { about, by: "Second", ...more }, "release");
const amend = () =>
  amendEntry(
    place.lab,
    {
      ...{ entry: knownSpecimen(place.lab, id).sequence, path: "/details/condition", before: "claen" },
      ...{ after: "clean", why: "typed wrong", by: "Third" },
    },
    "amendment",
  );
const sequence = () => place.lab.store.ledger.head().sequence;

describe("a record", () => {
  it("is reviewed and then released by a second person, as issue 1", () => {
    expect(reviewView(place.lab, ofShot())).toMatchObject({
      state: "not reviewed",
      madeBy: ["bench", "tester"],
    });
    expect(review(ofShot(), { note: "samples and verdict" })).toMatchObject({
      state: "reviewed",
      issues: [],
    });
    expect(release(ofShot())).toMatchObject({
      state: "released",
      issues: [{ issue: 1, by: "Second", state: "in force", review: { by: "Second" } }],
      since: [],
    });
  });

  it("that is amended after release is superseded, and says by what; released again it is issue 2", () => {
    review(ofShot());
    release(ofShot());
    review(ofSpecimen());
    release(ofSpecimen());
    amend();
    const amendment = sequence();
    for (const about of [ofShot(), ofSpecimen()]) {
      const view = reviewView(place.lab, about);
      expect(view).toMatchObject({ state: "superseded", since: [amendment] });
      expect(view.issues[0]).toMatchObject({ state: "superseded" });
      expect(view.issues[0]?.words).toContain(`entry ${amendment}`);
      expect(() => release(about)).toThrow("is superseded");
      review(about);
      const again = release(about);
      expect(again.state).toBe("released");
      expect(again.issues.map((one) => [one.issue, one.state])).toEqual([
        [1, "superseded"],
        [2, "in force"],
      ]);
      expect(again.issues[0]?.words).toContain("replaced by issue 2");
    }
  });

  it("that is changed between review and release is reviewed again", () => {
    review(ofShot());
    amend();
    expect(() => release(ofShot())).toThrow("came after that");
    review(ofShot());
    expect(release(ofShot()).state).toBe("released");
  });

  it("to which something is added after release stays in force, and names what came since", () => {
    review(ofSpecimen());
    release(ofSpecimen());
    place.setClock(7200);
    addCustodyEvent(
      place.lab,
      {
        about: ofSpecimen(),
        event: "receipt",
        from: "A",
        to: "B",
        observedAt: "2026-06-15T08:00:00Z",
        by: "Third",
      },
      "event",
    );
    const view = reviewView(place.lab, ofSpecimen());
    expect(view).toMatchObject({ state: "released", since: [sequence()] });
    expect(reviewView(place.lab, ofShot()).since).toEqual([]);
    review(ofSpecimen());
    expect(release(ofSpecimen()).issues.map((one) => one.issue)).toEqual([1, 2]);
  });

  it("that was returned is not released", () => {
    const view = review(ofShot(), { finding: "returned", note: "wrong specimen" });
    expect(view).toMatchObject({ state: "returned", words: "Returned by Second: wrong specimen" });
    expect(() => release(ofShot())).toThrow("is returned: Returned by Second: wrong specimen");
  });
});

describe("refused, and nothing is stored", () => {
  it.each<[string, () => unknown, string]>([
    [
      "a review by who made the record",
      () => review(ofShot(), { by: " Tester " }),
      "reviewed by a second person",
    ],
    [
      "a release by who made the record",
      () => release(ofShot(), { by: "tester" }),
      "released by a second person",
    ],
    ["a release without a review", () => release(ofShot()), "Nobody has reviewed it"],
    ["a return without a note", () => review(ofShot(), { finding: "returned" }), "what is to be mended"],
    ["an unknown shot", () => review({ kind: "shot", id: "none" }), 'no shot "none"'],
    ["an unknown specimen", () => review({ kind: "specimen", id: shot }), "no specimen"],
    ["a job", () => review({ kind: "job", id: "J" } as never), "about.kind must be one of"],
    ["nobody", () => review(ofShot(), { by: "" }), "by must"],
  ])("%s", (_, work, words) => {
    const before = sequence();
    expect(work).toThrow(words);
    expect(sequence()).toBe(before);
  });

  it("a release twice, and a review by who amended it", () => {
    review(ofShot());
    release(ofShot());
    review(ofShot());
    expect(() => release(ofShot())).toThrow("is released already, and nothing came since");
    amend();
    expect(() => review(ofShot(), { by: "third" })).toThrow("made entry");
  });
});
