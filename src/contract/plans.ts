import Type from "typebox";
import type { RateInterval } from "./rates.ts";

/** Kinds of plan, each with its inputs in words. GET /api/plan/:kind?input=…, and `asfound plan KIND --input …`. */
export const planKinds = {
  "zero-failures": {
    about: "how many must all pass to show a reliability",
    inputs: {
      confidence: "confidence, above 0 and below 1",
      reliability: "share that does not fail, above 0 and below 1",
    },
  },
  "some-failures": {
    about: "how many to test where so many may fail, to show a reliability",
    inputs: {
      confidence: "confidence, above 0 and below 1",
      reliability: "share that does not fail, above 0 and below 1",
      allowed: "failures allowed, a whole number from 0 to 1000",
    },
  },
  shown: {
    about: "what so many passes without a failure show",
    inputs: {
      confidence: "confidence, above 0 and below 1",
      tested: "number tested, a whole number of 1 or more",
    },
  },
  width: {
    about: "how many to test for an interval of a wanted width",
    inputs: {
      confidence: "confidence, above 0 and below 1",
      rate: "failure rate that is expected, above 0 and below 1",
      "half-width": "wanted half-width of the interval, from 0.001 to below 1",
    },
  },
  acceptance: {
    about: "plan that accepts good lots and refuses bad ones",
    inputs: {
      "good-rate": "failure rate of a lot that should be accepted, above 0 and below 1",
      "refuse-good": "chance to refuse such a lot, above 0 and below 1",
      "bad-rate": "failure rate of a lot that should be refused, above the good rate and below 1",
      "accept-bad": "chance to accept such a lot, above 0 and below 1",
    },
  },
  lot: {
    about: "how many of a finite lot must pass to rule out so many bad ones",
    inputs: {
      confidence: "confidence, above 0 and below 1",
      size: "breakers in the lot, a whole number from 1 to 100000",
      bad: "number of bad ones to rule out, a whole number from 1 to the size",
    },
  },
} as const;
export type PlanKind = keyof typeof planKinds;

/** GET /api/plan/:kind */
export interface PlanView {
  kind: PlanKind;
  inputs: Record<string, number>;
  /** The answer's numbers by name; rates from 0 to 1. */
  answer: Record<string, number>;
  sentence: string;
  presumes: string;
}

/** GET /api/plan: the kinds with their inputs. */
export type PlanKindsView = { kind: PlanKind; about: string; inputs: Record<string, string> }[];

/** Query of GET /api/place?N=&tested=&failed=&confidence= */
export const placeQuery = Type.Object(
  {
    N: Type.String({ description: "breakers in the place, those tested included" }),
    tested: Type.String({ description: "breakers tested" }),
    failed: Type.String({ description: "breakers failed, of those tested" }),
    confidence: Type.Optional(Type.String({ description: "above 0 and below 1" })),
  },
  { additionalProperties: false },
);
export type PlaceQuery = Record<keyof typeof placeQuery.properties, string | undefined>;

/** Exact bounds on the number of failures among those still in service. GET /api/place */
export interface PlaceView {
  N: number;
  tested: number;
  failed: number;
  inService: number;
  confidence: number;
  /** Failures among those not tested, as numbers of breakers. */
  remaining: { lower: number; upper: number; oneSidedUpper: number };
  sentence: string;
  words: string[];
}

/** Query of GET /api/panel */
export const panelQuery = Type.Object(
  {
    onePole: Type.String({ description: "one-pole breakers in the panel" }),
    twoPole: Type.String({ description: "two-pole breakers in the panel" }),
    onePoleTested: Type.Optional(Type.String({ description: "one-pole breakers tested" })),
    onePoleFailed: Type.Optional(Type.String({ description: "of them failed" })),
    twoPoleTested: Type.Optional(Type.String({ description: "two-pole breakers tested" })),
    twoPoleFailed: Type.Optional(Type.String({ description: "of them failed" })),
    fromLab: Type.Optional(Type.String({ description: "true to take the counts from the lab's own rates" })),
    point: Type.Optional(Type.String({ description: "with fromLab: multiple of rated current" })),
    confidence: Type.Optional(Type.String({ description: "above 0 and below 1" })),
  },
  { additionalProperties: false },
);
export type PanelQuery = Partial<Record<keyof typeof panelQuery.properties, string | undefined>>;

/** A quantity with what is believed of it. */
export interface BeliefView {
  mean: number;
  median: number;
  interval: RateInterval;
  oneSidedUpper95: number;
}

/** What rates mean for a panel. GET /api/panel */
export interface PanelView {
  onePole: { count: number; tested: number; failed: number };
  twoPole: { count: number; tested: number; failed: number };
  confidence: number;
  /** Probability that at least one of the panel would fail. */
  atLeastOne: BeliefView;
  /** Expected number that would fail. */
  expectedFailures: BeliefView;
  /** Chance that an overload on a circuit picked at random meets a breaker that would not trip. */
  randomCircuit: BeliefView;
  sentence: string;
  words: string[];
}

/** POST /api/shares: the text of a CSV log with the columns place,year,kind. Answer: SharesView. */
export const sharesBody = Type.Object(
  {
    csv: Type.String({ minLength: 1, maxLength: 900_000, description: "text of the CSV log" }),
    kind: Type.Optional(Type.String({ maxLength: 200, description: "only this kind" })),
    confidence: Type.Optional(Type.String({ description: "above 0 and below 1" })),
  },
  { additionalProperties: false },
);

/** Shares of equipment kinds among inspected places, by year. */
export interface SharesView {
  confidence: number;
  kinds: {
    kind: string;
    years: { year: number; places: number; withKind: number; share: number; exact: RateInterval }[];
    all: { places: number; withKind: number; share: number; exact: RateInterval };
    /** Trend over the years; null where it is not estimable. */
    trend: { z: number; p: number; words: string } | null;
  }[];
  notes: string[];
}
