import { afterEach, describe, expect, it } from "vitest";
import type { HostMessage, RigMessage } from "../../firmware-protocol/messages.ts";
import { RigSession } from "../../src/bench/rig-session.ts";
import { runShot, type ShotEnd, type ShotOrder } from "../../src/bench/shot-machine.ts";
import { noStop, quickOrder, RecordingSink } from "./recording-sink.ts";
import { ScriptedLink } from "./scripted-link.ts";

const quick = { beatMs: 20, answerMs: 15, repeats: 3, askAgainMs: 60 };
const quickShot = { quietMs: 20, settleIdleMs: 150, settleMostMs: 1000, pendingMs: 15, pendingTries: 3 };
const open: RigSession[] = [];
afterEach(async () => {
  for (const session of open.splice(0)) await session.close();
});

type Script = (message: HostMessage, to: string, link: ScriptedLink) => boolean;

/** Runs one shot against a rig that follows a script where it has one, and is well-behaved elsewhere; the operator may stop it. */
async function scripted(
  script: Script,
  change: Partial<ShotOrder> = {},
  ending: "stopped" | "not stopped" = "not stopped",
) {
  const link = new ScriptedLink();
  const session = new RigSession(link, quick);
  open.push(session);
  await session.connect();
  link.answer = (message, to) => script(message, to, link) || wellBehaved(message, to, link);
  const sink = new RecordingSink();
  const stop = new AbortController();
  sink.onState = (state) => {
    if (state === "watch" && ending === "stopped") setTimeout(() => stop.abort(), 40);
  };
  const order = quickOrder(change);
  const end: ShotEnd | Error = await runShot(session, order, sink, stop.signal, quickShot).catch(
    (error: Error) => error,
  );
  return { link, session, sink, end };
}

const onset: RigMessage = { verb: "EVENT", shot: 1, at: 2_000_000, kind: "onset" };
const off = (why: "host-stop" | "opened"): RigMessage => ({
  verb: "EVENT",
  shot: 1,
  at: 2_500_000,
  kind: "off",
  why,
});
const result = (why: "host-stop" | "opened"): RigMessage => ({
  verb: "RESULT",
  shot: 1,
  outcome: why === "opened" ? "opened" : "not-opened",
  why,
  ontime: 500_000,
  rms: 40_000,
  samples: 1,
});
const sample: RigMessage = { verb: "SAMPLE", shot: 1, t0: 2_016_667, step: 16_667, values: [40_000] };

function wellBehaved(message: HostMessage, to: string, link: ScriptedLink): boolean {
  if (message.verb === "FIRE") {
    link.say({ verb: "OK", to });
    link.tellState({ state: "on", at: 2_000_000 });
    link.say(onset);
    link.say(sample);
    return true;
  }
  if (message.verb === "STOP") {
    link.say({ verb: "OK", to });
    if (link.state.state === "on") {
      link.say(off("host-stop"));
      link.tellState({ state: "safe" });
      link.say(result("host-stop"));
    }
    return true;
  }
  return false;
}

describe("a rig that", () => {
  it("behaves is stopped at the limit by its clock alone, even if no sample comes", async () => {
    const { sink, end, link } = await scripted(
      (message, _, one) => {
        if (message.verb !== "BEAT" || one.state.state !== "on") return false;
        one.tellState({ at: one.state.at + 40_000_000 });
        return true;
      },
      { endAtSeconds: 100, longestSeconds: 200 },
    );
    expect(end).toMatchObject({ hostEnd: "limit", rigResult: { why: "host-stop" }, ambientCelsius: 21.5 });
    expect(sink.states).toEqual(["checks", "arm", "inject", "watch", "end", "settle", "record", "done"]);
    expect(link.said("DONE").map((line) => line.message)).toEqual([{ verb: "DONE", shot: 1 }]);
    const arm = link.said("ARM")[0]?.message;
    expect(arm).toEqual({
      verb: "ARM",
      shot: 1,
      amps: 40_000,
      rated: 20_000,
      longest: 200_000,
      loading: "pole-1",
      every: "cycle",
      raw: 256,
    });
    expect(link.said("FIRE")[0]?.message).toEqual({ verb: "FIRE", token: "12345678" });
  });

  it("does not answer STOP loses the heartbeat, so that it switches off by itself", async () => {
    const { link, session, end } = await scripted((message) => message.verb === "STOP", {}, "stopped");
    expect(end).toMatchObject({ hostEnd: "operator", rigResult: null, opened: true });
    expect(link.said("STOP").length).toBeGreaterThanOrEqual(4);
    expect(session.connected).toBe(false);
    expect(link.isOpen).toBe(false);
  });

  it("refuses FIRE has had no current on; it is disarmed", async () => {
    const { link, sink, end } = await scripted((message, to, one) => {
      if (message.verb === "FIRE") one.say({ verb: "REFUSED", to, code: "token-expired" });
      return message.verb === "FIRE";
    });
    expect(end).toMatchObject({ opened: false, rigResult: null, hostEnd: "interlock" });
    expect((end as ShotEnd).reason).toContain("the rig refused FIRE: token-expired");
    expect(sink.states).toEqual(["checks", "arm", "inject", "end", "settle", "record", "done"]);
    expect(link.said("STOP")).toHaveLength(1);
  });

  it("does not answer FIRE is told to stop, for it may have obeyed", async () => {
    const { link, end } = await scripted((message) => message.verb === "FIRE");
    expect(end).toMatchObject({ opened: false, hostEnd: "link-lost" });
    expect(link.said("FIRE")).toHaveLength(4);
    expect(link.said("STOP").length).toBeGreaterThanOrEqual(1);
  });

  it("keeps current on after it confirmed STOP is told again", async () => {
    let stops = 0;
    const { link, sink, end } = await scripted(
      (message, to, one) => {
        if (message.verb !== "STOP") return false;
        stops += 1;
        if (stops > 1) return false;
        one.say({ verb: "OK", to });
        return true;
      },
      {},
      "stopped",
    );
    expect(link.said("STOP")).toHaveLength(2);
    expect(sink.states).toEqual([
      "checks",
      "arm",
      "inject",
      "watch",
      "end",
      "settle",
      "end",
      "settle",
      "record",
      "done",
    ]);
    expect(end).toMatchObject({ hostEnd: "operator", rigResult: { why: "host-stop" } });
  });

  it("tells of an open interlock but leaves the current on is told to stop", async () => {
    const { link, end } = await scripted((message, _, one) => {
      if (message.verb !== "BEAT" || one.state.state !== "on") return false;
      one.tellState({ interlock: "open" });
      return true;
    });
    expect(link.said("STOP")).toHaveLength(1);
    expect(end).toMatchObject({ hostEnd: "interlock", opened: true });
    expect((end as ShotEnd).reason).toContain("the interlock of the test area is open");
  });

  it("still holds an earlier result is armed once that is acknowledged", async () => {
    const old: RigMessage = { ...(result("opened") as Extract<RigMessage, { verb: "RESULT" }>), ontime: 999 };
    let pending = true;
    const { link, end } = await scripted(
      (message, to, one) => {
        if (message.verb === "ARM" && pending) {
          one.say({ verb: "REFUSED", to, code: "result-pending", detail: "shot-1" });
          one.say(old);
          return true;
        }
        if (message.verb === "DONE") pending = false;
        return false;
      },
      {},
      "stopped",
    );
    expect(link.said("DONE").length).toBeGreaterThanOrEqual(2);
    // The old result bears the number of the new shot, as after a change of ledger, and must not be taken for it.
    expect(end).toMatchObject({ rigResult: { onTimeUs: 500_000 }, hostEnd: "operator" });
  });

  it("never gives a result is waited for, but not for ever; what is known is kept", async () => {
    const { sink, end } = await scripted(
      (message, to, one) => {
        if (message.verb !== "STOP") return false;
        one.say({ verb: "OK", to });
        one.say(off("host-stop"));
        one.tellState({ state: "safe" });
        return true;
      },
      {},
      "stopped",
    );
    expect(end).toMatchObject({ hostEnd: "operator", rigResult: null, opened: true });
    expect(sink.count).toBe(1);
  });

  it("says more after the result is heard out, a line that must be asked for twice included", async () => {
    const raw = (t0: number, value: number): RigMessage => ({
      verb: "RAW",
      shot: 1,
      window: "onset",
      t0,
      step: 100_000,
      values: [value],
    });
    let missing: Uint8Array | null = null;
    let asked = 0;
    const { sink, end } = await scripted(
      (message, to, one) => {
        if (message.verb === "AGAIN") {
          asked += 1;
          if (asked === 2 && missing !== null) one.sayLine(missing);
          return true;
        }
        if (message.verb !== "STOP") return false;
        one.say({ verb: "OK", to });
        one.say(off("host-stop"));
        one.tellState({ state: "safe" });
        one.say(result("host-stop"));
        missing = one.lineOf(raw(2_000_000, 1));
        one.say(raw(2_000_100, 2));
        return true;
      },
      {},
      "stopped",
    );
    expect(sink.windows.map((window) => [...window.milliamps])).toEqual([[1, 2]]);
    expect(end).toMatchObject({ lineHealth: { missing: 0 } });
  });

  it("trips so fast that its first word is the end of it has tripped", async () => {
    const { sink, end } = await scripted((message, to, one) => {
      if (message.verb !== "FIRE") return false;
      one.say(onset);
      one.say(sample);
      one.say(off("opened"));
      one.tellState({ state: "safe" });
      one.say(result("opened"));
      setTimeout(() => one.say({ verb: "OK", to }), 5);
      return true;
    });
    expect(end).toMatchObject({ hostEnd: "rig-ended", rigResult: { outcome: "opened" }, opened: true });
    expect(sink.states).toEqual(["checks", "arm", "inject", "watch", "settle", "record", "done"]);
  });

  it("says safe without a word of why has been interrupted", async () => {
    const { end } = await scripted((message, _, one) => {
      if (message.verb !== "BEAT" || one.state.state !== "on") return false;
      one.tellState({ state: "safe" });
      return true;
    });
    expect(end).toMatchObject({ hostEnd: "interlock", rigResult: null, opened: true });
  });

  it("speaks of another shot is not listened to", async () => {
    const { sink } = await scripted(
      (message, _, one) => {
        if (message.verb === "BEAT") one.say({ verb: "SAMPLE", shot: 9, t0: 1, step: 1, values: [1] });
        return false;
      },
      {},
      "stopped",
    );
    expect(sink.count).toBe(1);
  });

  it("keeps current on past its own maximum by the wall's clock is told to stop", async () => {
    const link = new ScriptedLink();
    const session = new RigSession(link, quick);
    open.push(session);
    await session.connect();
    link.answer = (message, to) => {
      if (message.verb === "BEAT") {
        link.say(link.state);
        return true;
      }
      return wellBehaved(message, to, link);
    };
    const order = quickOrder({ endAtSeconds: 0.05, longestSeconds: 0.06 });
    const end = await runShot(session, order, new RecordingSink(), noStop, { ...quickShot, overrunMs: 50 });
    expect(end.hostEnd).toBe("limit");
    expect(end.reason).toContain("past its own hard maximum");
  });
});
