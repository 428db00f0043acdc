import { describe, expect, it } from "vitest";
import {
  type ShotState,
  type ShotTrigger,
  shotActions,
  shotIgnores,
  shotStates,
  shotTransition,
  shotTransitions,
  shotTransitionsMarkdown,
  shotTriggers,
  statesWithCurrent,
} from "../../src/bench/shot-transitions.ts";

const states = Object.keys(shotStates) as ShotState[];
const triggers = Object.keys(shotTriggers) as ShotTrigger[];
const pairs = states.flatMap((state) => triggers.map((trigger) => [state, trigger] as const));
const rowsFor = (state: ShotState, trigger: ShotTrigger) =>
  shotTransitions.filter((row) => row.from === state && row.on === trigger).length;

/** What may be done on leaving a state in which current may flow: switch off, or go on because the rig is off or gone. */
const offIsKnown: readonly ShotTrigger[] = ["rig-off", "stop-confirmed", "line-lost", "stop-unanswered"];

describe("the table of a shot", () => {
  it("has at most one row for each state and trigger, and none that is also ignored", () => {
    for (const [state, trigger] of pairs)
      expect(
        rowsFor(state, trigger) + (shotIgnores[state].includes(trigger) ? 1 : 0),
        `${state} ${trigger}`,
      ).toBeLessThanOrEqual(1);
  });

  it.each(pairs)("says what happens in %s on %s", (state, trigger) => {
    const found = shotTransition(state, trigger);
    const ignored = shotIgnores[state].includes(trigger);
    if (ignored) expect(found).toBe("stay");
    else if (rowsFor(state, trigger) === 1) expect(shotTransitions).toContain(found);
    else if (statesWithCurrent.includes(state))
      expect(found).toMatchObject({ to: "end", action: "switch-off" });
    else expect(found).toMatchObject({ to: state === "settle" ? "record" : "done" });
  });

  it("never moves on from current that may flow but by switching off, or by knowing that it is off or out of reach", () => {
    for (const row of shotTransitions) {
      if (!statesWithCurrent.includes(row.from) || statesWithCurrent.includes(row.to)) continue;
      expect(offIsKnown, `${row.from} on ${row.on}`).toContain(row.on);
    }
  });

  it("switches off on entering `end`, from wherever it is entered", () => {
    for (const [state, trigger] of pairs) {
      const found = shotTransition(state, trigger);
      if (found !== "stay" && found.to === "end") expect(found.action).toBe("switch-off");
    }
  });

  it("gives the token back on one path only: checks, then arming, then injection", () => {
    const firing = pairs.filter(([state, trigger]) => {
      const found = shotTransition(state, trigger);
      return found !== "stay" && found.action === "send-fire";
    });
    expect(firing).toEqual([["arm", "armed"]]);
    const arming = pairs.filter(([state, trigger]) => {
      const found = shotTransition(state, trigger);
      return found !== "stay" && found.action === "send-arm";
    });
    expect(arming).toEqual([["checks", "fit"]]);
  });

  it("never goes back to a state before, but from settling to ending when current is still told of", () => {
    const rank = (state: ShotState) => states.indexOf(state);
    const back = pairs.flatMap(([state, trigger]) => {
      const found = shotTransition(state, trigger);
      return found !== "stay" && rank(found.to) <= rank(state) ? [[state, trigger, found.to]] : [];
    });
    const impossibleInEnd = triggers
      .filter((trigger) => rowsFor("end", trigger) === 0 && !shotIgnores.end.includes(trigger))
      .map((trigger) => ["end", trigger, "end"]);
    expect(back).toEqual([...impossibleInEnd, ["settle", "still-on", "end"]]);
  });

  it("leads from every state to done", () => {
    const leads = new Set<ShotState>(["done"]);
    for (let round = 0; round < states.length; round += 1)
      for (const row of shotTransitions) if (leads.has(row.to)) leads.add(row.from);
    expect([...leads].sort()).toEqual([...states].sort());
  });

  it("can end every state on a lost line and on the operator's word, once current is possible", () => {
    for (const state of statesWithCurrent) {
      expect(shotTransition(state, "line-lost")).toMatchObject({ to: "record" });
      if (state !== "end") expect(shotTransition(state, "stop-wanted")).toMatchObject({ to: "end" });
    }
  });

  it("is printed whole for people", () => {
    const text = shotTransitionsMarkdown();
    for (const row of shotTransitions)
      expect(text).toContain(
        `| ${row.from} | ${row.on} | ${shotTriggers[row.on]} | ${shotActions[row.action]} | ${row.to} |`,
      );
    for (const state of states) expect(text).toContain(shotStates[state]);
    expect(text).not.toContain("undefined");
  });
});
