import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { programmeNamed, programmes } from "../../../src/core/specimen/programme.ts";
import { programmeState, type SpecimenEvent } from "../../../src/core/specimen/programme-state.ts";
import { type AllowedPoint, programmeSteps } from "../../../src/core/specimen/programme-steps.ts";
import type { Loading } from "../../../src/core/specimen/specimen.ts";

const poles: Loading[] = ["pole-1", "pole-2"];

/** A set with a hold at 1, trips at 1.5 on either loading and at 3 on each pole alone; two poles. */
const points: AllowedPoint[] = [
  { row: "hold", multiple: 1, loading: "all", mustTrip: false, asked: true, cold: true },
  ...poles.map((loading) => ({
    row: "low",
    multiple: 1.5,
    loading,
    mustTrip: true,
    asked: true,
    cold: true,
  })),
  { row: "low", multiple: 1.5, loading: "all", mustTrip: true, asked: false, cold: true },
  ...poles.map((loading) => ({ row: "high", multiple: 3, loading, mustTrip: true, asked: true, cold: true })),
];

let count = 0;
const shot = (row: string, loading: Loading, tripped: boolean, decided = true): SpecimenEvent => {
  count += 1;
  return { kind: "shot", shot: `T${count}`, row, loading, decided, tripped };
};
const handle = (operations: number): SpecimenEvent => ({ kind: "handle", operations });

const named = (name: string) => {
  const found = programmeNamed(name);
  if (found === null) throw new Error(name);
  return programmeSteps(found, points);
};
const words = (state: ReturnType<typeof programmeState>) =>
  state.next === null
    ? null
    : state.next.kind === "exercise"
      ? `exercise ${state.next.times}`
      : `${state.next.point.row} ${state.next.point.loading}`;
const asFound = named("as-found first");
const stateAfter = (...events: SpecimenEvent[]) => programmeState(asFound, points, events);

describe("programmes", () => {
  it("as-found first: the first pole, the others alone, all poles, five operations, and all of it again", () => {
    const events: SpecimenEvent[] = [];
    const seen: (string | null)[] = [];
    for (let i = 0; i < 12; i += 1) {
      const state = programmeState(asFound, points, events);
      seen.push(words(state));
      if (state.next === null) break;
      events.push(
        state.next.kind === "exercise"
          ? handle(state.next.times)
          : shot(state.next.point.row, state.next.point.loading, true),
      );
    }
    expect(seen).toEqual([
      ...["low pole-1", "low pole-2", "low all", "exercise 5"],
      ...["low pole-1", "low pole-2", "low all", null],
    ]);
  });

  it("limit set: every point that the set asks for, in its order", () => {
    const steps = named("limit set").map((step) => (step.kind === "shot" ? step.point.row : step.kind));
    expect(steps).toEqual(["hold", "low", "low", "high", "high"]);
  });

  it("makes a shot again that decided nothing, and counts the handle only when the shots are done", () => {
    expect(words(stateAfter(shot("low", "pole-1", false, false)))).toBe("low pole-1");
    expect(words(stateAfter(handle(50)))).toBe("low pole-1");
    const three = [shot("low", "pole-1", true), shot("low", "pole-2", true), shot("low", "all", true)];
    expect(words(stateAfter(handle(50), ...three))).toBe("exercise 5");
    expect(words(stateAfter(...three, handle(3)))).toBe("exercise 5");
    expect(words(stateAfter(...three, handle(3), handle(2)))).toBe("low pole-1");
  });

  it("offers the next higher multiple after a no-trip", () => {
    const state = stateAfter(shot("low", "pole-1", false));
    expect(words(state)).toBe("high pole-1");
    expect(state.suspicions).toMatchObject([{ kind: "higher multiple offered", multiple: 3 }]);
  });

  it("suspects a jam when that holds too, and goes on to exercising", () => {
    const state = stateAfter(shot("low", "pole-1", false), shot("high", "pole-1", false));
    expect(words(state)).toBe("exercise 5");
    expect(state.suspicions).toMatchObject([{ kind: "jam suspected", multiple: 1.5, higher: 3 }]);
    expect(state.steps.filter((one) => one.state === "skipped")).toHaveLength(2);
    const freed = stateAfter(shot("low", "pole-1", false), shot("high", "pole-1", false), handle(5));
    expect(words(freed)).toBe("low pole-1");
  });

  it("leaves nothing out of a programme in which no exercise follows", () => {
    const events = [shot("hold", "all", false), shot("low", "pole-1", false), shot("high", "pole-1", false)];
    const state = programmeState(named("limit set"), points, events);
    expect(state.suspicions).toMatchObject([{ kind: "jam suspected" }]);
    expect(words(state)).toBe("low pole-2");
  });

  it("goes on with the phase when the higher multiple trips", () => {
    const state = stateAfter(shot("low", "pole-1", false), shot("high", "pole-1", true));
    expect(words(state)).toBe("low pole-2");
    expect(state.suspicions).toMatchObject([{ kind: "trips only higher", multiple: 1.5, higher: 3 }]);
  });

  it("says so where the set has no higher multiple", () => {
    const flat = points.filter((point) => point.row !== "high");
    const state = programmeState(asFound, flat, [shot("low", "pole-1", false)]);
    expect(state.suspicions).toMatchObject([{ kind: "no higher multiple", multiple: 1.5 }]);
    expect(words(state)).toBe("low pole-2");
  });

  it("ends, whatever the specimen does: taking each next step finishes every programme", () => {
    fc.assert(
      fc.property(fc.constantFrom(...programmes), fc.infiniteStream(fc.boolean()), (programme, trips) => {
        const steps = programmeSteps(programme, points);
        const events: SpecimenEvent[] = [];
        for (let i = 0; i < 40; i += 1) {
          const state = programmeState(steps, points, events);
          expect(state.steps.filter((one) => one.state === "next")).toHaveLength(state.finished ? 0 : 1);
          if (state.next === null) return;
          events.push(
            state.next.kind === "exercise"
              ? handle(state.next.times)
              : shot(state.next.point.row, state.next.point.loading, trips.next().value === true),
          );
        }
        throw new Error("does not end");
      }),
    );
  });
});
