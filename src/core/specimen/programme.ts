/**
 * One part of a programme. `shots`: at the first test point that asks for a trip, or at every point of the limit set, with
 * these loadings; what was already shot since the handle was last worked is not asked for twice. `exercise`: the handle is
 * worked so many times by hand.
 */
export type ProgrammePart =
  | {
      kind: "shots";
      at: "first trip point" | "every point";
      loadings: "first of the point" | "each pole alone" | "all poles" | "as the set asks";
      because: string;
    }
  | { kind: "exercise"; times: number; because: string };

/** A named sequence of shots and handle movements. Each shot starts cold unless its test point says otherwise. */
export interface Programme {
  name: string;
  about: string;
  parts: readonly ProgrammePart[];
}

const eachPole: ProgrammePart = {
  kind: "shots",
  at: "first trip point",
  loadings: "each pole alone",
  because: "each pole has its own bimetal",
};
const allPoles: ProgrammePart = {
  kind: "shots",
  at: "first trip point",
  loadings: "all poles",
  because: "the poles share one latch",
};

/**
 * Every programme there is. The sequence of `as-found first` is common practice: the first operation after removal is the only
 * one that shows the state as found, and working the handle can free a stuck latch. Five operations are our own choice.
 */
export const programmes: readonly Programme[] = [
  {
    name: "limit set",
    about: "Every test point of the limit set, in its order.",
    parts: [
      {
        kind: "shots",
        at: "every point",
        loadings: "as the set asks",
        because: "test point of the limit set",
      },
    ],
  },
  {
    name: "as-found first",
    about:
      "The first overload as found; each pole alone; all poles; the handle worked five times; then all of it again, exercised.",
    parts: [
      {
        kind: "shots",
        at: "first trip point",
        loadings: "first of the point",
        because: "only the first operation shows the state as found",
      },
      eachPole,
      allPoles,
      {
        kind: "exercise",
        times: 5,
        because: "shows whether working the handle changes the result",
      },
      { ...eachPole, because: "repeat, exercised" },
      { ...allPoles, because: "repeat, exercised" },
    ],
  },
];

/** The programme of that name, or null. */
export function programmeNamed(name: string): Programme | null {
  return programmes.find((one) => one.name === name) ?? null;
}
