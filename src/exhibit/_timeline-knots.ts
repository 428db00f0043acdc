import type { CustodyTimelineData } from "../contract/exhibit-figures.ts";

/** A moment that has its own place on the timeline. */
export interface Knot {
  at: string;
  /** Null where the day is withheld. */
  seconds: number | null;
  /** What stands above it. */
  heading: string;
  /** Place of the event that begins here, or null. */
  event: number | null;
  isShot: boolean;
}

/** The moments of a chain in order, and for each event the places of the moments where it begins and ends. */
export interface Knots {
  list: readonly Knot[];
  begins: readonly number[];
  /** Equal to the beginning for what was a moment, and where the end is withheld. */
  ends: readonly number[];
  /** The shot that first had current, where its place is known. */
  firstCurrent: { shot: string; at: string; knot: number } | null;
}

/** A published copy tells the year alone. */
export const isDated = (at: string): boolean => at.length >= 16;

const secondsOf = (at: string): number | null => (isDated(at) ? Date.parse(at) / 1000 : null);

/**
 * The moments of a chain: every event has its own, in the order given, also where two were observed at one time; so have the
 * first current and the last shot. An end takes the moment that is there already, or its own. Withheld days have no ends and
 * no shots, since their place among the events is not known.
 */
export function timelineKnots({ lines, shots }: CustodyTimelineData): Knots {
  const events = lines.map(
    ({ event }, i): Knot => ({
      at: event.observedAt,
      seconds: secondsOf(event.observedAt),
      heading: `${i + 1} ${event.event}${event.about.kind === "job" ? "*" : ""}`,
      event: i,
      isShot: false,
    }),
  );
  const isKnown = events.every(({ seconds }) => seconds !== null) && shots.every(({ at }) => isDated(at));
  const first = isKnown ? shots.find(({ current }) => current) : undefined;
  const last = isKnown ? shots.at(-1) : undefined;
  const shotKnot = (at: string, heading: string): Knot => ({
    ...{ at, seconds: secondsOf(at), heading, event: null, isShot: true },
  });
  const list = [...events];
  if (first !== undefined) list.push(shotKnot(first.at, "first current"));
  if (last !== undefined && last !== first) list.push(shotKnot(last.at, "last test"));
  if (isKnown) addEnds(list, lines);
  // Sorting is stable: what was observed at one time stays in the order of the table.
  list.sort((a, b) => (a.seconds ?? 0) - (b.seconds ?? 0));
  const knot = list.findIndex((one) => one.isShot);
  const firstCurrent = first === undefined ? null : { shot: first.shot, at: first.at, knot };
  const begins = lines.map((_, i) => list.findIndex(({ event }) => event === i));
  const ends = lines.map(({ event }, i) => {
    const from = begins[i] ?? 0;
    const until = event.observedUntil === null || !isKnown ? null : secondsOf(event.observedUntil);
    if (until === null || event.observedUntil === event.observedAt) return from;
    return Math.max(
      from,
      list.findIndex(({ seconds }, at) => at > from && seconds === until),
    );
  });
  return { list, begins, ends, firstCurrent };
}

function addEnds(list: Knot[], lines: CustodyTimelineData["lines"]): void {
  const taken = new Set(list.map(({ seconds }) => seconds));
  const ending = new Map<string, number[]>();
  lines.forEach(({ event: { observedAt, observedUntil } }, i) => {
    if (observedUntil === null || observedUntil === observedAt || taken.has(secondsOf(observedUntil))) return;
    ending.set(observedUntil, [...(ending.get(observedUntil) ?? []), i + 1]);
  });
  for (const [at, numbers] of ending)
    list.push({
      ...{ at, seconds: secondsOf(at), event: null, isShot: false },
      heading: `end of ${numbers.join(", ")}`,
    });
}
