import { afterEach, describe, expect, it, vi } from "vitest";
import { breakerByName } from "../../firmware-protocol/emulated-rig/built-in-breakers.ts";
import { parseLineFaults } from "../../firmware-protocol/emulated-rig/line-faults.ts";
import { EmulatedLink } from "../../src/bench/emulated-link.ts";
import { RigRefusal } from "../../src/bench/rig-error.ts";
import { RigSession } from "../../src/bench/rig-session.ts";
import { runShot, type ShotEnd } from "../../src/bench/shot-machine.ts";
import { noStop, quickOrder, RecordingSink } from "./recording-sink.ts";

const open: RigSession[] = [];
afterEach(async () => {
  for (const session of open.splice(0)) await session.close();
});

async function bench({ breaker = "sound", faults = "", speed = 200, seed = 1 } = {}) {
  const link = new EmulatedLink({
    seed,
    speed,
    breaker: breakerByName(breaker),
    lineFaults: parseLineFaults(faults),
  });
  const session = new RigSession(link);
  open.push(session);
  await session.connect();
  return { link, rig: link.rig, session, sink: new RecordingSink() };
}

/** Rig time for which current was on, by the rig's own events, in seconds. */
function onSeconds(sink: RecordingSink): number {
  const at = (kind: string) => sink.events.find((event) => event.kind === kind)?.atUs ?? Number.NaN;
  return (at("off") - at("onset")) / 1e6;
}

describe("a shot ends", () => {
  it("on a trip, with every sample, both raw windows and the rig's own result", async () => {
    const { session, sink } = await bench();
    const end = await runShot(session, quickOrder(), sink, noStop);
    expect(end).toMatchObject({
      hostEnd: "rig-ended",
      rigResult: { outcome: "opened", why: "opened" },
      ambientCelsius: 25,
      lineHealth: { damaged: 0, askedAgain: 0, missing: 0 },
      reason: "the specimen opened",
      opened: true,
    });
    expect(sink.states).toEqual(["checks", "arm", "inject", "watch", "settle", "record", "done"]);
    expect(sink.count).toBe(end.rigResult?.samples);
    expect(sink.gaps).toBe(0);
    expect(sink.events.map((event) => event.kind)).toEqual(["onset", "opening", "off"]);
    expect(sink.windows.map(({ window, milliamps }) => [window, milliamps.length])).toEqual([
      ["onset", 256],
      ["opening", 256],
    ]);
    const opening = sink.events.find((event) => event.kind === "opening")?.atUs ?? 0;
    const onset = sink.events.find((event) => event.kind === "onset")?.atUs ?? 0;
    expect(Math.abs(opening - onset - (end.rigResult?.onTimeUs ?? 0))).toBeLessThanOrEqual(2);
  });

  it("at the limit and its margin, measured on the rig's clock", async () => {
    const { rig, session, sink } = await bench({ breaker: "never-trips" });
    const end = await runShot(session, quickOrder({ endAtSeconds: 30, longestSeconds: 60 }), sink, noStop);
    expect(end).toMatchObject({ hostEnd: "limit", rigResult: { outcome: "not-opened", why: "host-stop" } });
    expect(sink.states).toEqual(["checks", "arm", "inject", "watch", "end", "settle", "record", "done"]);
    // At 200 times real time a line that is 30 ms late is 6 s late.
    expect(onSeconds(sink)).toBeGreaterThanOrEqual(30);
    expect(onSeconds(sink)).toBeLessThan(55);
    expect(rig.isOn).toBe(false);
  });

  it("at the rig's own maximum, should the host come too late; that is the limit too", async () => {
    const { session, sink } = await bench({ breaker: "never-trips" });
    const end = await runShot(session, quickOrder({ endAtSeconds: 30, longestSeconds: 30 }), sink, noStop);
    expect(end.hostEnd).toBe("limit");
    expect(onSeconds(sink)).toBeCloseTo(30, 1);
  });

  it("on the operator's word", async () => {
    const { rig, session, sink } = await bench({ breaker: "never-trips" });
    const stop = new AbortController();
    sink.onSamples = (count) => count > 300 && stop.abort();
    const end = await runShot(session, quickOrder(), sink, stop.signal);
    expect(end).toMatchObject({ hostEnd: "operator", rigResult: { why: "host-stop" }, opened: true });
    expect(end.reason).toBe("the operator wants to stop");
    expect(rig.isOn).toBe(false);
    expect(onSeconds(sink)).toBeLessThan(60);
  });

  it.each([
    ["openInterlock", "interlock", "the interlock of the test area opened"],
    ["pressStopButton", "stop-button", "the hard-wired stop button was pressed"],
    ["overheatSource", "over-temperature", "the current source became too hot"],
    ["failSource", "source-fault", "the current source failed"],
  ] as const)("on %s", async (act, why, reason) => {
    const { rig, session, sink } = await bench({ breaker: "never-trips" });
    let acted = false;
    sink.onSamples = () => {
      if (acted) return;
      acted = true;
      setImmediate(() => rig[act]());
    };
    const end = await runShot(session, quickOrder(), sink, noStop);
    expect(end).toMatchObject({ hostEnd: "interlock", rigResult: { why }, reason, opened: true });
    expect(rig.isOn).toBe(false);
  });

  it("when what was heard cannot be stored", async () => {
    const { rig, session, sink } = await bench({ breaker: "never-trips" });
    sink.onSamples = (count) => {
      if (count > 100) throw new Error("the disk is full");
    };
    const end = await runShot(session, quickOrder(), sink, noStop);
    expect(end).toMatchObject({ hostEnd: "host-died", opened: true });
    expect(end.reason).toContain("the disk is full");
    expect(rig.isOn).toBe(false);
  });

  it("of its own when the breaker trips while STOP is on its way: the breaker has opened", async () => {
    const { session, sink } = await bench();
    const stop = new AbortController();
    const found = await runShot(session, quickOrder(), sink, noStop);
    const last = found.rigResult?.samples ?? 0;
    const again = await bench();
    again.sink.onSamples = (count) => count >= last - 4 && stop.abort();
    const end = await runShot(again.session, quickOrder(), again.sink, stop.signal);
    expect(end).toMatchObject({ hostEnd: "rig-ended", rigResult: { outcome: "opened" } });
  });
});

describe("no shot comes about, and no current flows,", () => {
  async function refusal(session: RigSession, change: object, sink = new RecordingSink(), stop = noStop) {
    const outcome: ShotEnd | Error = await runShot(session, quickOrder(change), sink, stop).catch(
      (error: Error) => error,
    );
    expect(outcome).toBeInstanceOf(Error);
    expect(sink.states).not.toContain("inject");
    expect(sink.states.at(-1)).toBe("done");
    expect(sink.count).toBe(0);
    return (outcome as Error).message;
  }

  it.each([
    [{ targetAmps: 0.1 }, "the current is 0.1 A; accepted: 0.5 to"],
    [{ targetAmps: Number.NaN }, "the current is NaN A"],
    [{ ratedAmps: 0 }, "the rated current is 0 A"],
    [{ endAtSeconds: 200 }, "the end of the test is 200 s; accepted: 0.001 to 160 s"],
    [{ longestSeconds: 1e6 }, "the rig's hard maximum on-time is 1000000 s"],
    [{ rawSamples: 5000 }, "raw samples is 5000; accepted: 0 to 4096"],
    [{ shot: 0 }, "the number of the shot is 0"],
    [{ shot: 1.5 }, "the number of the shot is 1.5; a whole number is needed"],
  ])("if the order is %j", async (change, words) => {
    const { rig, session } = await bench();
    expect(await refusal(session, change)).toContain(words);
    expect(rig.isOn).toBe(false);
  });

  it("if the interlock is open, or the button pressed, or the rig in fault; and it comes about once that is over", async () => {
    const { rig, session } = await bench();
    rig.openInterlock();
    await vi.waitFor(() => expect(session.state?.interlock).toBe("open"));
    expect(await refusal(session, {})).toContain("the interlock of the test area is open; close the area");
    rig.closeInterlock();
    rig.pressStopButton();
    await vi.waitFor(() => expect(session.state?.button).toBe("pressed"));
    expect(await refusal(session, {})).toContain("the hard-wired stop button is pressed");
    rig.releaseStopButton();
    await vi.waitFor(() => expect(session.state?.button).toBe("released"));
    const sink = new RecordingSink();
    sink.onState = (state) => state === "watch" && setImmediate(() => rig.failSource());
    await runShot(session, quickOrder(), sink, noStop);
    expect(await refusal(session, { shot: 2 })).toContain("the rig is in its fault state");
    await session.clear();
    const end = await runShot(session, quickOrder({ shot: 3 }), new RecordingSink(), noStop);
    expect(end.hostEnd).toBe("rig-ended");
  });

  it("if the rig refuses to arm: its own words are given", async () => {
    const { session, sink } = await bench();
    const failure = await runShot(
      session,
      quickOrder({ targetAmps: 60_000, loading: "pole-1" }),
      sink,
      noStop,
    )
      .then(() => null)
      .catch((error: unknown) => error);
    expect(failure).toBeNull();
    const { link } = await bench();
    link.rig.mount(breakerByName("sound"), { poles: 1 });
    const other = open.at(-1) as RigSession;
    const refused = await runShot(
      other,
      quickOrder({ loading: "pole-3" }),
      new RecordingSink(),
      noStop,
    ).catch((error: unknown) => error);
    expect(refused).toBeInstanceOf(RigRefusal);
    expect(refused).toMatchObject({ verb: "ARM", code: "out-of-range" });
  });

  it("if it was stopped before it began, or while it was armed", async () => {
    const { rig, session } = await bench();
    expect(await refusal(session, {}, new RecordingSink(), AbortSignal.abort())).toContain(
      "shot 1 was not made: the operator wants to stop",
    );
    const stop = new AbortController();
    const sink = new RecordingSink();
    sink.onState = (state) => state === "arm" && stop.abort();
    expect(await refusal(session, {}, sink, stop.signal)).toContain("the operator wants to stop");
    await vi.waitFor(() => expect(session.state?.state).toBe("safe"));
    expect(rig.isOn).toBe(false);
  });

  it("if it cannot be noted that current is about to flow", async () => {
    const { rig, session } = await bench();
    const sink = new RecordingSink();
    sink.onState = (state) => {
      if (state === "inject") throw new Error("the disk is full");
    };
    await expect(runShot(session, quickOrder(), sink, noStop)).rejects.toThrow("the disk is full");
    expect(sink.count).toBe(0);
    expect(rig.isOn).toBe(false);
  });

  it("while another is on; that one goes on unharmed", async () => {
    const { session, sink } = await bench();
    const first = runShot(session, quickOrder(), sink, noStop);
    await expect(runShot(session, quickOrder({ shot: 2 }), new RecordingSink(), noStop)).rejects.toThrow(
      "shot 2 cannot begin: shot 1 is on; only one shot at a time",
    );
    expect((await first).hostEnd).toBe("rig-ended");
    expect((await runShot(session, quickOrder({ shot: 2 }), new RecordingSink(), noStop)).opened).toBe(true);
  });

  it("if the session is not connected", async () => {
    const { session } = await bench();
    await session.close();
    expect(await refusal(session, {})).toContain("is not connected");
  });
});

describe("a loading of all poles", () => {
  it("tells each pole's opening", async () => {
    const { session, sink } = await bench();
    await runShot(session, quickOrder({ loading: "all" }), sink, noStop);
    const poles = sink.events.flatMap((event) => (event.kind === "opening" ? [event.pole] : []));
    expect([...poles].sort()).toEqual([1, 2, 3]);
  });
});

describe("half-cycle samples", () => {
  it("come twice as often", async () => {
    const { session, sink } = await bench();
    await runShot(session, quickOrder({ every: "half-cycle", targetAmps: 120 }), sink, noStop);
    expect(sink.runs[0]?.stepUs).toBe(8333);
    expect(sink.gaps).toBe(0);
  });
});
