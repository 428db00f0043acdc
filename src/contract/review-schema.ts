import Type from "typebox";
import type { EntryBodies, ReviewSubject } from "./ledger-entries.ts";
import { person, prose, words } from "./record-fields.ts";

const about = Type.Object(
  {
    kind: Type.Enum(["specimen", "shot"], { description: "whether of a specimen or of a shot" }),
    id: words("identifier of the specimen or shot"),
  },
  { additionalProperties: false },
);

/** POST /api/reviews: a second person has checked a record. Answer 201: where the record stands. */
export const reviewInput = Type.Object(
  {
    about,
    finding: Type.Enum(["accepted", "returned"], { description: "what the review found" }),
    note: Type.Optional(prose("what was checked, or what is to be mended")),
    by: person,
  },
  { additionalProperties: false },
);

/** POST /api/releases: a reviewed record is given out. Answer 201: where the record stands. */
export const releaseInput = Type.Object(
  { about, note: Type.Optional(prose("note")), by: person },
  { additionalProperties: false },
);

/** One issue of a record. `replacedBy`: the amendment after which it no longer holds. */
export interface IssueView {
  issue: number;
  sequence: number;
  at: string;
  by: string;
  /** Sequence of the entry under which who made it signed in; left out where the name was only typed. */
  signIn?: number;
  note: string;
  /** Who had reviewed it, by the entry of the review. */
  review: { sequence: number; by: string };
  state: "in force" | "superseded";
  words: string;
}

/** Where a record stands: who made it, who reviewed it, which issues there are. */
export interface ReviewView {
  about: ReviewSubject;
  state: "not reviewed" | "returned" | "reviewed" | "released" | "superseded";
  words: string;
  madeBy: string[];
  reviews: {
    sequence: number;
    at: string;
    by: string;
    signIn?: number;
    review: EntryBodies["record-reviewed"];
  }[];
  issues: IssueView[];
  /** Entries of the record that came after its newest release. */
  since: number[];
}
