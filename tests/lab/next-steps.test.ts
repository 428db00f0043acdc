import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { lockProgramme, programmeLock, ruleInForce } from "../../src/lab/lock-programme.ts";
import { moveHandle } from "../../src/lab/move-handle.ts";
import { nextSteps, type RestingRig } from "../../src/lab/next-steps.ts";
import { setPolicy } from "../../src/lab/policy.ts";
import { planView } from "../../src/lab/programme-view.ts";
import { rig } from "./measuring-lab.ts";
import { RecordedLab, timeAt } from "./recorded-lab.ts";

let place: RecordedLab;
beforeEach(() => {
  place = new RecordedLab();
  setPolicy(place.lab, { coolingTauSeconds: 900 });
});
afterEach(() => place.remove());

const serial: RestingRig = { address: "serial:/dev/invented", state: "safe", identity: rig };
const lock = {
  programme: "as-found first",
  limitSet: "ul-489-calibration",
  rule: { kind: "guard" as const, r: 1 },
};
const iec = { ...lock, limitSet: "iec-60898-1" };

describe("lockProgramme", () => {
  it("locks before the first current, and needs a reason for what comes later", () => {
    const specimen = place.receive();
    expect(programmeLock(place.lab, specimen)).toBeNull();
    const first = lockProgramme(place.lab, specimen, lock);
    expect(first).toMatchObject({ ...lock, amends: null, beforeFirstCurrent: true });
    expect(lockProgramme(place.lab, specimen, lock).sequence).toBe(first.sequence);
    const other = { ...lock, rule: { kind: "simple" as const } };
    expect(() => lockProgramme(place.lab, specimen, other)).toThrow(`entry ${first.sequence}`);
    place.shot(specimen, { at: 0, multiple: 2, seconds: 50 });
    const amended = lockProgramme(place.lab, specimen, { ...other, why: "the client asked for it" });
    expect(amended).toMatchObject({ amends: first.sequence, beforeFirstCurrent: false });
  });

  it("needs a reason after current has flowed without a lock", () => {
    const specimen = place.receive();
    place.shot(specimen, { at: 0, multiple: 2, seconds: 50 });
    expect(() => lockProgramme(place.lab, specimen, lock)).toThrow("a shot was made");
    expect(lockProgramme(place.lab, specimen, { ...lock, why: "taken over" }).amends).toBeNull();
  });

  it("refuses what does not exist or does not apply, and names what does", () => {
    const specimen = place.receive();
    expect(() => lockProgramme(place.lab, specimen, { ...lock, programme: "all" })).toThrow(
      '"limit set", "as-found first"',
    );
    expect(() => lockProgramme(place.lab, specimen, { ...lock, limitSet: "none" })).toThrow("limit set");
    expect(() =>
      lockProgramme(place.lab, specimen, { ...lock, rule: { kind: "guard", r: Number.NaN } }),
    ).toThrow("r must be");
    expect(programmeLock(place.lab, specimen)).toBeNull();
  });

  it("gives the locked rule to shots on its limit set, and refuses another one", () => {
    const specimen = place.receive();
    const request = { specimen, limitSet: lock.limitSet };
    expect(ruleInForce(place.lab, request)).toBeUndefined();
    lockProgramme(place.lab, specimen, lock);
    expect(ruleInForce(place.lab, request)).toEqual(lock.rule);
    expect(() => ruleInForce(place.lab, { ...request, rule: { kind: "simple" } })).toThrow("locked");
    expect(ruleInForce(place.lab, { ...request, limitSet: "w-c-375e" })).toBeUndefined();
  });
});

describe("nextSteps", () => {
  it("offers the cold specimen while the other one cools, and the wait ends when it says", () => {
    const warm = place.receive({ label: "A-1", poles: 2, volts: 240 });
    const fresh = place.receive({ label: "A-2" });
    const unlocked = place.receive({ label: "A-3" });
    for (const specimen of [warm, fresh]) lockProgramme(place.lab, specimen, lock);
    place.shot(warm, { at: 0, multiple: 2, loading: "pole-1", seconds: 50 });
    place.setClock(60);
    const { specimens } = nextSteps(place.lab, serial);
    expect(specimens.map((one) => [one.specimen, one.allowed])).toEqual([
      [fresh, true],
      [warm, false],
    ]);
    expect(specimens.some((one) => one.specimen === unlocked)).toBe(false);
    const [, waiting] = specimens;
    expect(waiting?.step).toMatchObject({ loading: "pole-2", multiple: 2, state: "next" });
    const wait = waiting?.waitSeconds ?? 0;
    // From the pick-up down to a hundredth's shortening at 200 %: 2 x 900 s x ln(1.15 / p), p from 1 - t/t0 = 0.01, less the 10 s since.
    const allowed = Math.sqrt(4 * -Math.expm1(-0.01 * Math.log(4 / (4 - 1.15 ** 2))));
    expect(wait).toBeCloseTo(2 * 900 * Math.log(1.15 / allowed) - 10, 3);
    expect(Date.parse(waiting?.allowedAt ?? "")).toBeCloseTo(Date.parse(timeAt(60 + wait)), -1);
    place.setClock(60 + wait + 1);
    expect(nextSteps(place.lab, serial).specimens.every((one) => one.allowed)).toBe(true);
  });

  it("keeps its timers over a restart", () => {
    const specimen = place.receive();
    lockProgramme(place.lab, specimen, lock);
    place.shot(specimen, { at: 0, multiple: 2, seconds: null });
    place.setClock(500);
    const before = nextSteps(place.lab, null);
    expect(nextSteps(place.reopened(), null)).toEqual(before);
  });

  it("needs no rest for the handle, nor on an emulated rig, and says so", () => {
    const specimen = place.receive({ poles: 2, volts: 240 });
    lockProgramme(place.lab, specimen, lock);
    place.shot(specimen, { at: 0, multiple: 2, loading: "pole-1", seconds: 50 });
    place.setClock(60);
    const emulated = { ...serial, address: "emulated?speed=20", identity: { ...rig, emulated: true } };
    const [rested] = nextSteps(place.lab, emulated).specimens;
    expect(rested).toMatchObject({ allowed: true, waitSeconds: 0 });
    expect(rested?.words).toContain("emulated rig lets it rest");
    place.shot(specimen, { at: 60, multiple: 2, loading: "pole-2", seconds: 50 });
    place.shot(specimen, { at: 120, multiple: 1.35, loading: "all", seconds: 50 });
    const [handle] = nextSteps(place.lab, serial).specimens;
    expect(handle).toMatchObject({ allowed: true, step: { kind: "exercise", times: 5 } });
    moveHandle(place.lab, specimen, 5, "");
    expect(planView(place.lab, specimen).steps.find((one) => one.state === "next")).toMatchObject({
      kind: "shot",
      loading: "pole-1",
      because: "repeat, exercised",
    });
  });

  it("does not claim to know how long a specimen rested on an emulated rig behind a line", () => {
    const specimen = place.receive();
    lockProgramme(place.lab, specimen, lock);
    place.shot(specimen, { at: 0, multiple: 2, seconds: null, emulated: true });
    const [next] = nextSteps(place.lab, null).specimens;
    expect(next?.coldness?.verdict).not.toBe("cold");
  });

  it("branches to the higher multiple after a no-trip, suspects a jam when that holds, and goes on to exercising", () => {
    const specimen = place.receive({ ratedAmps: 16, poles: 1, volts: 230, typeLetter: "C" });
    lockProgramme(place.lab, specimen, iec);
    place.shot(specimen, { at: 0, multiple: 2.55, seconds: null, limitSet: iec.limitSet });
    const [branch] = nextSteps(place.lab, serial).specimens;
    expect(branch?.step).toMatchObject({ multiple: 5, branch: true });
    expect(branch?.suspicions[0]).toMatchObject({ kind: "higher multiple offered" });
    place.shot(specimen, { at: 9000, multiple: 5, seconds: null, limitSet: iec.limitSet });
    const plan = planView(place.lab, specimen);
    expect(plan.jamSuspected).toContain("Jam suspected: no trip at 255 %, nor at 500 %");
    expect(nextSteps(place.lab, serial).specimens[0]?.step.kind).toBe("exercise");
  });
});
