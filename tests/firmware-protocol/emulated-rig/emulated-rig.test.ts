import { describe, expect, it } from "vitest";
import { encodeLine } from "../../../firmware-protocol/codec/encode-line.ts";
import { breakerByName } from "../../../firmware-protocol/emulated-rig/built-in-breakers.ts";
import { EmulatedRig } from "../../../firmware-protocol/emulated-rig/emulated-rig.ts";
import { parseLineFaults } from "../../../firmware-protocol/emulated-rig/line-faults.ts";
import { type Message, messages } from "../../../firmware-protocol/messages.ts";
import { HandTurnedClock } from "./hand-turned-clock.ts";
import { TestHost } from "./test-host.ts";

/** Whether the last thing measured was current. */
const currentAtEnd = (host: TestHost) => (host.samples().at(-1)?.milliamps ?? 0) > 1000;

describe("identification", () => {
  it("answers HELLO with every item once, the count last", () => {
    const host = new TestHost();
    host.send({ verb: "HELLO", version: 1 });
    const items = host.said("IDENT");
    expect(items.map((one) => one.item)).toEqual([...messages.IDENT.fields.item.of]);
    expect(items.at(-1)?.value).toBe(String(items.length - 1));
    expect(items.find((one) => one.item === "emulated")?.value).toBe("yes");
  });

  it("tells rigs of different seeds apart", () => {
    const serial = (seed: number) => {
      const host = new TestHost({ seed });
      host.send({ verb: "HELLO", version: 1 });
      return host.said("IDENT").find((one) => one.item === "serial")?.value;
    };
    expect(serial(1)).toBe(serial(1));
    expect(serial(1)).not.toBe(serial(2));
  });

  it("begins with line 0000 and a safe state", () => {
    const host = new TestHost();
    expect(host.lines.map((line) => [line.sequence, line.message.verb])).toEqual([[0, "STATE"]]);
    expect(host.last("STATE")).toMatchObject({ at: 0, state: "safe", last: "FFFF" });
  });

  it("answers every BEAT with STATE, whose `last` is the number of the line before", () => {
    const host = new TestHost();
    host.pass(1000);
    expect(host.said("STATE")).toHaveLength(5);
    for (const line of host.lines)
      if (line.message.verb === "STATE")
        expect(Number.parseInt(line.message.last, 16)).toBe((line.sequence + 65_535) % 65_536);
  });
});

describe("a shot", () => {
  it("goes safe, armed, on, safe and says what happened in order", () => {
    const host = new TestHost({ speed: 10 });
    const result = host.shoot({ shot: 7 });
    const states = host.said("STATE").map((one) => one.state);
    expect(states.filter((state, index) => state !== states[index - 1])).toEqual([
      "safe",
      "armed",
      "on",
      "safe",
    ]);
    expect(host.said("EVENT").map((one) => one.kind)).toEqual(["onset", "opening", "off"]);
    expect(host.last("EVENT").why).toBe("opened");
    expect(result).toMatchObject({ shot: 7, outcome: "opened", why: "opened" });
    expect(result.ontime).toBeGreaterThan(40e6);
    expect(result.ontime).toBeLessThan(70e6);
  });

  it("samples every window from the onset on without a gap, half of them if asked, until after the opening", () => {
    for (const [every, windowUs] of [
      ["cycle", 1e6 / 60],
      ["half-cycle", 1e6 / 120],
    ] as const) {
      const host = new TestHost({ speed: 10 });
      const result = host.shoot({ every, amps: 100_000 });
      const [onset, opening, off] = host.said("EVENT");
      const samples = host.samples();
      expect(samples).toHaveLength(result.samples);
      for (const [index, { endUs }] of samples.entries())
        expect(Math.abs(endUs - ((onset?.at ?? 0) + (index + 1) * windowUs))).toBeLessThan(12);
      expect(opening?.at).toBe((onset?.at ?? 0) + result.ontime);
      expect(off?.at).toBeGreaterThan(opening?.at ?? 0);
      expect(samples.at(-1)?.endUs).toBeGreaterThan(off?.at ?? 0);

      const before = samples.filter((one) => one.endUs <= (opening?.at ?? 0));
      const after = samples.filter((one) => one.endUs - windowUs > (opening?.at ?? 0));
      expect(Math.min(...before.slice(30).map((one) => one.milliamps))).toBeGreaterThan(99_000);
      expect(Math.max(...after.map((one) => one.milliamps))).toBeLessThan(200);
      expect(after.length).toBeGreaterThanOrEqual(3);
      const parted = samples.slice(before.length, samples.length - after.length);
      expect(parted.length).toBeLessThanOrEqual(1);
      // Between two zeros of a sine lies a share of its energy that goes with time, within half a cycle's unevenness.
      for (const { endUs, milliamps } of parted) {
        const share = ((opening?.at ?? 0) - (endUs - windowUs)) / windowUs;
        expect(Math.abs((milliamps / 100_000) ** 2 - share)).toBeLessThan(0.1);
      }
      const verbs = host.lines.map((line) => line.message);
      const told = verbs.findIndex((one) => one.verb === "EVENT" && one.kind === "opening");
      const saidBefore = verbs.slice(0, told).flatMap((one) => (one.verb === "SAMPLE" ? one.values : []));
      expect(saidBefore).toHaveLength(before.length + parted.length);
    }
  });

  it("measures an effective current and an on-time that agree with its own samples", () => {
    const host = new TestHost({ speed: 50, breaker: "never-trips" });
    const result = host.shoot({ longest: 10_000 });
    const squares = host.samples().reduce((sum, one) => sum + one.milliamps ** 2, 0);
    expect(result.ontime).toBe(10_000_000);
    expect(result.rms / Math.sqrt((squares / 10) * (1 / 60))).toBeCloseTo(1, 4);
  });

  it("measures a window in which the source was switched off by its share of current", () => {
    const host = new TestHost({ breaker: "never-trips" });
    host.shoot({ longest: 1_004 });
    const last = host.samples().filter((one) => one.milliamps > 200);
    // 1004 ms are 60 cycles of 16.67 ms and a quarter: a quarter of a cycle has a quarter of the energy.
    expect(last).toHaveLength(61);
    expect((last[60]?.milliamps ?? 0) / 40_000).toBeCloseTo(Math.sqrt(0.24), 1);
  });

  it("says that the specimen opened even if it is stopped before the source is off", () => {
    const host = new TestHost();
    host.fire({ amps: 260_000 });
    while (!host.said("EVENT").some((one) => one.kind === "opening")) host.clock.turn(1);
    host.send({ verb: "STOP" });
    expect(host.last("EVENT")).toMatchObject({ kind: "off", why: "opened" });
    host.pass(1000);
    expect(host.last("RESULT")).toMatchObject({ outcome: "opened", why: "opened" });
  });

  it("tells the opening of each loaded pole, the one that interrupts first", () => {
    const all = new TestHost({ speed: 100, poles: 3 });
    const result = all.shoot({ loading: "all" });
    const openings = all.said("EVENT").filter((one) => one.kind === "opening");
    expect(openings.map((one) => one.pole).sort()).toEqual([1, 2, 3]);
    const onset = all.said("EVENT")[0]?.at ?? 0;
    expect(openings[0]?.at).toBe(onset + result.ontime);
    for (const { at } of openings) expect(at - (openings[0]?.at ?? 0)).toBeLessThan(2001);
    const one = new TestHost({ speed: 100, poles: 3 });
    one.shoot({ loading: "pole-3" });
    expect(
      one
        .said("EVENT")
        .filter((event) => event.kind === "opening")
        .map((event) => event.pole),
    ).toEqual([3]);
  });

  it("trips by magnetism within one cycle above about ten times the rating, and not below", () => {
    for (const breaker of ["sound", "magnetic-only"]) {
      const host = new TestHost({ breaker, speed: 5 });
      const fast = host.shoot({ amps: 260_000, every: "half-cycle" });
      expect(fast.outcome).toBe("opened");
      // Half a cycle to the peak, some 8 ms to unlatch, at most one loop of current until the arc dies.
      expect(fast.ontime).toBeLessThan(33_000);
      host.rig.rest(7200);
      const slow = host.shoot({ amps: 140_000, longest: 500, shot: 2 });
      expect(slow.outcome).toBe("not-opened");
    }
  });

  it("shows the onset and the opening in raw samples, each as many as asked", () => {
    const host = new TestHost({ speed: 50 });
    host.shoot({ raw: 1000, amps: 100_000 });
    const [onset, opening] = host.said("EVENT");
    for (const [window, at] of [
      ["onset", onset?.at ?? 0],
      ["opening", opening?.at ?? 0],
    ] as const) {
      const values = host
        .said("RAW")
        .filter((one) => one.window === window)
        .flatMap(({ t0, step, values: run }) =>
          run.map((milliamps, index) => ({ us: t0 + (index * step) / 1000, milliamps })),
        );
      expect(values).toHaveLength(1000);
      const quiet = values.filter(({ us }) => (window === "onset" ? us < at : us >= at));
      const loud = values.filter(({ us }) => (window === "onset" ? us > at : us < at));
      for (const { milliamps } of quiet) expect(Math.abs(milliamps)).toBeLessThan(2000);
      expect(Math.max(...loud.map((one) => one.milliamps))).toBeGreaterThan(138_000);
      expect(Math.min(...loud.map((one) => one.milliamps))).toBeLessThan(-125_000);
    }
    const verbs = host.lines.map((line) => line.message.verb);
    expect(verbs.indexOf("RAW")).toBeGreaterThan(verbs.lastIndexOf("SAMPLE"));
    expect(verbs.indexOf("RESULT")).toBeGreaterThan(verbs.lastIndexOf("RAW"));
  });

  it("says samples promptly at true speed and in full lines at high speed", () => {
    const slow = new TestHost({ breaker: "never-trips" });
    slow.fire({ longest: 60_000 });
    let heard = 0;
    for (let i = 0; i < 40; i += 1) {
      slow.pass(50);
      expect(slow.samples().length).toBeGreaterThan(heard);
      heard = slow.samples().length;
    }
    expect(heard).toBeGreaterThan(115);
    const fast = new TestHost({ breaker: "never-trips", speed: 1000 });
    fast.shoot({ longest: 600_000 });
    const lengths = fast.lines
      .filter((line) => line.message.verb === "SAMPLE")
      .map((line) => line.bytes.length);
    expect(lengths.filter((length) => length > 115).length / lengths.length).toBeGreaterThan(0.9);
  });

  it("repeats RESULT every second until DONE, and refuses to arm until then", () => {
    const host = new TestHost({ speed: 100, breaker: "never-trips" });
    host.fire({ longest: 1000, shot: 3 });
    host.pass(5000);
    expect(host.said("RESULT").length).toBeGreaterThanOrEqual(5);
    expect(new Set(host.said("RESULT").map((one) => JSON.stringify(one))).size).toBe(1);
    expect(host.arm({ shot: 4 })).toMatchObject({
      verb: "REFUSED",
      code: "result-pending",
      detail: "shot-3",
    });
    host.send({ verb: "DONE", shot: 4 });
    expect(host.last("REFUSED")).toMatchObject({ code: "bad-value", detail: "shot-4,accepted-3" });
    host.send({ verb: "DONE", shot: 3 });
    host.forget();
    host.pass(3000);
    expect(host.said("RESULT")).toEqual([]);
    expect(host.arm({ shot: 4 }).verb).toBe("READY");
  });
});

describe("safety", () => {
  const running = (options: ConstructorParameters<typeof TestHost>[0] = {}) => {
    const host = new TestHost({ breaker: "never-trips", ...options });
    host.fire();
    host.pass(1000);
    expect(host.state).toBe("on");
    expect(currentAtEnd(host)).toBe(true);
    return host;
  };

  it("lets no current flow unless both steps of arming were taken", () => {
    const host = new TestHost();
    host.pass(1000);
    host.send({ verb: "FIRE", token: "00000000" });
    host.pass(1000);
    host.arm();
    host.pass(4000);
    expect(host.state).toBe("armed");
    host.pass(2000);
    expect(host.state).toBe("safe");
    expect(host.said("SAMPLE")).toEqual([]);
    expect(host.said("EVENT")).toEqual([]);
  });

  it.each([
    ["STOP", (host: TestHost) => host.send({ verb: "STOP" }), "host-stop", "safe"],
    ["the interlock", (host: TestHost) => host.rig.openInterlock(), "interlock", "fault"],
    ["the stop button", (host: TestHost) => host.rig.pressStopButton(), "stop-button", "fault"],
    ["an overheated source", (host: TestHost) => host.rig.overheatSource(), "over-temperature", "fault"],
    ["a fault of the source", (host: TestHost) => host.rig.failSource(), "source-fault", "fault"],
  ] as const)("%s switches the current off at once, and tells why", (_, act, why, state) => {
    const host = running();
    const atMs = host.clock.nowMs();
    act(host);
    expect(host.last("EVENT")).toMatchObject({ kind: "off", why });
    expect(host.state).toBe(state);
    host.pass(1000);
    expect(host.last("RESULT")).toMatchObject({ outcome: "not-opened", why });
    expect(Math.abs(host.last("RESULT").ontime / 1000 - atMs)).toBeLessThan(20);
    const tail = host.samples().slice(-4);
    expect(Math.max(...tail.map((one) => one.milliamps))).toBeLessThan(100);
  });

  it("drops the current one second after the last heartbeat, by the wall, at any speed", () => {
    for (const speed of [1, 50]) {
      const host = running({ speed });
      host.beats = false;
      host.clock.turn(700);
      expect(host.rig.isOn).toBe(true);
      host.clock.turn(400);
      expect(host.rig.isOn).toBe(false);
      expect(host.last("EVENT")).toMatchObject({ kind: "off", why: "heartbeat-lost" });
      expect(host.state).toBe("safe");
      host.clock.turn(500);
      const tail = host.samples().slice(-4);
      expect(Math.max(...tail.map((one) => one.milliamps))).toBeLessThan(100);
    }
  });

  it("disarms one second after the last heartbeat", () => {
    const host = new TestHost();
    const ready = host.arm();
    host.clock.turn(1100);
    expect(host.state).toBe("safe");
    if (ready.verb === "READY") host.send({ verb: "FIRE", token: ready.token });
    expect(host.last("REFUSED").code).toBe("not-armed");
  });

  it("ends a shot at its longest time to the microsecond, whatever the host does", () => {
    for (const longest of [1, 17, 1234, 30_000]) {
      const host = new TestHost({ breaker: "never-trips", speed: 10 });
      const result = host.shoot({ longest });
      expect(result).toMatchObject({ outcome: "not-opened", why: "longest-time", ontime: longest * 1000 });
    }
  });

  it("forgets the shot and starts anew from 0000 after a reset, without current", () => {
    const host = running();
    host.forget();
    host.rig.reset();
    expect(host.lines[0]?.sequence).toBe(0);
    expect(host.last("STATE")).toMatchObject({ at: 0, state: "safe" });
    host.pass(3000);
    expect(host.said("SAMPLE")).toEqual([]);
    expect(host.said("RESULT")).toEqual([]);
    expect(host.arm({ shot: 2 }).verb).toBe("READY");
  });

  it("never restarts the current by itself when the cable comes back", () => {
    const host = running();
    let pulled = 0;
    host.rig.onCablePulled(() => {
      pulled += 1;
    });
    host.rig.pullCable();
    host.forget();
    host.pass(1500);
    expect(pulled).toBe(1);
    expect(host.lines).toEqual([]);
    expect(host.rig.isOn).toBe(false);
    host.rig.plugCable();
    host.pass(2500);
    expect(host.last("RESULT").why).toBe("heartbeat-lost");
    expect(host.rig.isOn).toBe(false);
  });

  it("waits for CLEAR after a fault, and for its cause to be gone", () => {
    const host = running();
    host.rig.pressStopButton();
    host.send({ verb: "CLEAR" });
    expect(host.last("REFUSED")).toMatchObject({ code: "fault-present", detail: "stop-button" });
    host.send({ verb: "STOP" });
    expect(host.state).toBe("fault");
    host.pass(500);
    host.send({ verb: "DONE", shot: 1 });
    host.rig.releaseStopButton();
    expect(host.state).toBe("fault");
    expect(host.arm()).toMatchObject({ code: "fault-present" });
    host.send({ verb: "CLEAR" });
    expect(host.state).toBe("safe");
    expect(host.arm({ shot: 2 }).verb).toBe("READY");
  });

  it("tells of a hazard in the safe state without making a fault of it", () => {
    const host = new TestHost();
    host.rig.openInterlock();
    expect(host.last("STATE")).toMatchObject({ state: "safe", interlock: "open" });
    host.rig.pressStopButton();
    expect(host.last("STATE")).toMatchObject({ state: "safe", button: "pressed" });
    host.rig.closeInterlock();
    host.rig.releaseStopButton();
    expect(host.last("STATE")).toMatchObject({ state: "safe", interlock: "closed", button: "released" });
  });

  it("goes from armed to fault when a hazard appears, and its token is worth nothing then", () => {
    const host = new TestHost();
    const ready = host.arm();
    host.rig.openInterlock();
    expect(host.state).toBe("fault");
    host.rig.closeInterlock();
    host.send({ verb: "CLEAR" });
    if (ready.verb === "READY") host.send({ verb: "FIRE", token: ready.token });
    expect(host.last("REFUSED").code).toBe("not-armed");
  });

  it("does nothing and says nothing once it is switched off", () => {
    const host = running();
    host.rig.stop();
    expect(host.clock.isIdle).toBe(true);
    host.forget();
    host.pass(3000);
    expect(host.lines).toEqual([]);
    host.rig.start();
    expect(host.last("STATE")).toMatchObject({ at: 0, state: "safe" });
  });
});

describe("refusals", () => {
  const armedToken = (host: TestHost) => {
    const ready = host.arm();
    if (ready.verb !== "READY") throw new Error(ready.code);
    return ready.token;
  };
  const otherThan = (token: string) => (token === "00000000" ? "00000001" : "00000000");
  const sendRaw = (host: TestHost, message: unknown) =>
    host.rig.receive(encodeLine(9999, message as Message));
  const withBody = (body: string) => {
    // A line with a right CRC around words that our encoder would not write.
    const crc = [...body].reduce((crcSoFar, character) => {
      let next = crcSoFar ^ (character.charCodeAt(0) << 8);
      for (let bit = 0; bit < 8; bit += 1) next = next & 0x8000 ? (next << 1) ^ 0x1021 : next << 1;
      return next & 0xffff;
    }, 0xffff);
    return Buffer.from(`${body}*${crc.toString(16).toUpperCase().padStart(4, "0")}\n`);
  };

  const reached: Readonly<Record<string, (host: TestHost) => void>> = {
    "unknown-message": (host) => host.rig.receive(withBody("1234 LAUNCH")),
    "bad-value": (host) => host.rig.receive(withBody("1234 DONE shot=0")),
    version: (host) => host.send({ verb: "HELLO", version: 2 }),
    "out-of-range": (host) => host.arm({ amps: 499 }),
    "not-safe": (host) => {
      host.arm();
      host.arm();
    },
    "not-armed": (host) => host.send({ verb: "FIRE", token: "00000000" }),
    "wrong-token": (host) => host.send({ verb: "FIRE", token: otherThan(armedToken(host)) }),
    "token-expired": (host) => {
      const token = armedToken(host);
      host.pass(5250);
      host.send({ verb: "FIRE", token });
    },
    interlock: (host) => {
      host.rig.openInterlock();
      host.arm();
    },
    "over-temperature": (host) => {
      host.rig.overheatSource();
      host.arm();
    },
    "stop-button": (host) => {
      host.rig.pressStopButton();
      host.arm();
    },
    "fault-present": (host) => {
      host.arm();
      host.rig.failSource();
      host.arm();
    },
    "result-pending": (host) => {
      host.fire({ longest: 100 });
      host.pass(2000);
      host.arm({ shot: 2 });
    },
  };

  it("can all be reached", () => {
    expect(Object.keys(reached)).toEqual([...messages.REFUSED.fields.code.of]);
  });

  it.each(Object.keys(reached))("%s is said for its own reason, and no current flows", (code) => {
    const host = new TestHost({ breaker: "never-trips" });
    reached[code]?.(host);
    expect(host.last("REFUSED").code).toBe(code);
    expect(host.rig.isOn).toBe(false);
  });

  it("names the number of the line that it answers", () => {
    const host = new TestHost();
    host.rig.receive(withBody("BEEF LAUNCH"));
    expect(host.last("REFUSED").to).toBe("BEEF");
  });

  it("refuses what only a rig may say", () => {
    const host = new TestHost();
    sendRaw(host, { verb: "OK", to: "0000" });
    expect(host.last("REFUSED").code).toBe("unknown-message");
  });

  it.each([
    [{ amps: 60_000_001 }, "amps-60000001,accepted-500-to-60000000"],
    [{ loading: "pole-3" }, "pole-3,poles-2"],
  ] as const)("says what is accepted: %j", (fields, detail) => {
    expect(new TestHost({ poles: 2 }).arm(fields)).toMatchObject({ code: "out-of-range", detail });
  });

  it("keeps a refusal of a long strange line within its own line", () => {
    const host = new TestHost();
    host.rig.receive(withBody(`1234 HELLO version=${"9".repeat(95)}`));
    expect(host.last("REFUSED").code).toBe("bad-value");
    host.rig.receive(withBody("1235 HELLO version=%C3%A4%C3%A4%C3%A4%C3%A4%C3%A4%C3%A4%C3%A4%C3%A4%C3%A4"));
    expect(host.last("REFUSED").to).toBe("1235");
  });

  it("says nothing to a line whose CRC fails", () => {
    const host = new TestHost();
    host.forget();
    host.rig.receive(Buffer.from("0000 STOP*0000\n\xff\xfe garbage\n\n"));
    expect(host.lines).toEqual([]);
  });

  it("accepts a token once", () => {
    const host = new TestHost();
    const token = armedToken(host);
    host.send({ verb: "FIRE", token });
    host.send({ verb: "STOP" });
    host.pass(1000);
    host.send({ verb: "DONE", shot: 1 });
    host.send({ verb: "FIRE", token });
    expect(host.last("REFUSED").code).toBe("not-armed");
    expect(armedToken(host)).not.toBe(token);
  });

  it("accepts it once even if its shot ended by itself", () => {
    const host = new TestHost();
    const ready = host.arm({ longest: 500 });
    const token = ready.verb === "READY" ? ready.token : "";
    host.send({ verb: "FIRE", token });
    host.send({ verb: "FIRE", token });
    expect(host.said("REFUSED").map((one) => one.code)).toEqual(["not-armed"]);
    host.pass(2000);
    host.send({ verb: "DONE", shot: 1 });
    host.send({ verb: "FIRE", token });
    expect(host.said("REFUSED").map((one) => one.code)).toEqual(["not-armed", "not-armed"]);
    expect(host.said("EVENT").filter((one) => one.kind === "onset")).toHaveLength(1);
  });
});

describe("repetition", () => {
  it("answers the same host line again with the same words and does not act on it twice", () => {
    const host = new TestHost({ breaker: "never-trips" });
    const arm = host.send({
      verb: "ARM",
      shot: 1,
      amps: 40_000,
      rated: 20_000,
      longest: 10_000,
      loading: "pole-1",
      every: "cycle",
      raw: 0,
    });
    host.rig.receive(arm);
    expect(host.said("READY")).toHaveLength(2);
    expect(host.said("READY")[1]).toEqual(host.said("READY")[0]);
    const fire = host.send({ verb: "FIRE", token: host.last("READY").token });
    host.rig.receive(fire);
    expect(host.said("OK").map((one) => one.to)).toEqual(["0001", "0001"]);
    expect(host.said("EVENT").filter((one) => one.kind === "onset")).toHaveLength(1);
    const stop = host.send({ verb: "STOP" });
    host.pass(500);
    host.send({ verb: "DONE", shot: 1 });
    expect(host.arm({ shot: 2 }).verb).toBe("READY");
    host.rig.receive(stop);
    expect(host.state).toBe("armed");
    expect(host.said("OK").at(-1)).toEqual({ verb: "OK", to: "0002" });
  });

  it("does not take a heartbeat that comes again for a sign of life", () => {
    const host = new TestHost({ breaker: "never-trips" });
    host.fire();
    const beat = host.send({ verb: "BEAT" });
    for (let i = 0; i < 5; i += 1) {
      host.clock.turn(250);
      host.rig.receive(beat);
    }
    expect(host.last("STATE").state).toBe("safe");
    expect(host.last("EVENT").why).toBe("heartbeat-lost");
  });

  it("obeys a host that begins anew with the same numbers after HELLO", () => {
    const host = new TestHost({ breaker: "never-trips" });
    const hello = encodeLine(0, { verb: "HELLO", version: 1 });
    const arm = encodeLine(1, {
      verb: "ARM",
      shot: 1,
      amps: 40_000,
      rated: 20_000,
      longest: 10_000,
      loading: "pole-1",
      every: "cycle",
      raw: 0,
    });
    host.rig.receive(hello);
    host.rig.receive(arm);
    host.clock.turn(1100);
    host.rig.receive(hello);
    host.rig.receive(arm);
    const [first, second] = host.said("READY");
    expect(second?.token).not.toBe(first?.token);
    expect(host.state).toBe("armed");
  });

  it("says lines again byte for byte, and GONE for those it has not", () => {
    const host = new TestHost({ speed: 20 });
    host.shoot();
    const sent = host.lines.map((line) => line.bytes);
    host.forget();
    host.send({
      verb: "AGAIN",
      first: "0000",
      last: (sent.length - 1).toString(16).toUpperCase().padStart(4, "0"),
    });
    expect(host.lines.map((line) => line.bytes)).toEqual(sent);
    host.forget();
    host.send({ verb: "AGAIN", first: "FFFE", last: "0001" });
    expect(host.lines.map((line) => line.bytes).slice(0, 2)).toEqual(sent.slice(0, 2));
    expect(host.last("GONE")).toEqual({ verb: "GONE", first: "FFFE", last: "FFFF" });
  });

  it("takes lines in pieces of any size", () => {
    const host = new TestHost();
    for (const byte of encodeLine(0, { verb: "HELLO", version: 1 })) host.rig.receive(Uint8Array.of(byte));
    expect(host.said("IDENT").length).toBeGreaterThan(10);
  });

  it("answers from within the host's own handler without losing the order of its lines", () => {
    const host = new TestHost({ speed: 20 });
    host.rig.onBytes(() => {
      if (host.lines.length < 400) host.send({ verb: "BEAT" });
    });
    const heardNext: number[] = [];
    host.rig.onBytes((bytes) => {
      for (const line of Buffer.from(bytes).toString().trimEnd().split("\n"))
        heardNext.push(Number.parseInt(line.slice(0, 4), 16));
    });
    host.shoot();
    expect(heardNext).toEqual(heardNext.map((_, index) => index + (heardNext[0] ?? 0)));
    const sequences = host.lines.map((line) => line.sequence);
    expect(sequences).toEqual(sequences.map((_, index) => index));
  });
});

describe("the line's faults", () => {
  it("come by chance both ways, and AGAIN mends what the rig said", () => {
    const lineFaults = parseLineFaults(
      "drop=0.05,damage=0.05,repeat=0.05,reorder=0.05,truncate=0.05,ways=from-rig",
    );
    const host = new TestHost({ speed: 20, lineFaults, breaker: "never-trips" });
    host.fire({ longest: 60_000 });
    host.pass(5000);
    expect(host.damaged).toBeGreaterThan(0);
    const heard = new Map(host.lines.map((line) => [line.sequence, line.message]));
    const newest = Math.max(...heard.keys());
    expect(heard.size).toBeLessThan(newest);
    for (let round = 0; round < 20; round += 1)
      for (let sequence = 0; sequence <= newest; sequence += 1) {
        if (heard.has(sequence)) continue;
        const word = sequence.toString(16).toUpperCase().padStart(4, "0");
        host.send({ verb: "AGAIN", first: word, last: word });
        for (const line of host.lines) heard.set(line.sequence, line.message);
      }
    const samples = [...heard.values()].flatMap((message) =>
      message.verb === "SAMPLE" ? message.values : [],
    );
    expect(samples).toHaveLength(60 * 60 + 4);
  });

  it("hurt the host's lines on their way to the rig, which obeys none that is damaged", () => {
    const host = new TestHost({ lineFaults: parseLineFaults("damage=1,ways=to-rig") });
    host.forget();
    for (let i = 0; i < 300; i += 1) host.send({ verb: "HELLO", version: 1 });
    expect(host.said("IDENT")).toEqual([]);
    expect(host.damaged).toBe(0);
  });

  it("silence lasts as long as asked and then the line speaks again", () => {
    const host = new TestHost({
      breaker: "never-trips",
      lineFaults: parseLineFaults("silence-at=2,silence-for=0.5"),
    });
    host.fire({ longest: 4000 });
    host.pass(6000);
    const ends = host.samples().map((one) => one.endUs / 1e6);
    const silent = ends.filter((end) => end > 2.05 && end < 2.45);
    expect(silent).toEqual([]);
    expect(ends.filter((end) => end > 2.6 && end < 4).length).toBeGreaterThan(70);
    expect(host.last("RESULT").why).toBe("longest-time");
  });

  it("a silence longer than the heartbeat ends the shot", () => {
    const host = new TestHost({
      breaker: "never-trips",
      lineFaults: parseLineFaults("silence-at=1,silence-for=3"),
    });
    host.fire({ longest: 20_000 });
    host.pass(6000);
    expect(host.last("RESULT").why).toBe("heartbeat-lost");
    expect(host.last("RESULT").ontime).toBeLessThan(2.2e6);
  });

  it("the cable is pulled at its time, once, and a reset comes at its time, once", () => {
    const host = new TestHost({
      breaker: "never-trips",
      lineFaults: parseLineFaults("pull-at=1.5,reset-at=1.5"),
    });
    let pulledAt = Number.NaN;
    host.rig.onCablePulled(() => {
      pulledAt = host.rig.rigSeconds;
    });
    host.fire({ longest: 20_000 });
    host.pass(2000);
    expect(pulledAt).toBeCloseTo(1.5, 1);
    expect(host.samples().at(-1)?.endUs).toBeLessThan(1.53e6);
    expect(host.rig.isOn).toBe(false);
    host.rig.plugCable();
    host.forget();
    host.pass(250);
    expect(host.last("STATE").at).toBeLessThan(1e6);
    host.fire({ longest: 3000, shot: 2 });
    host.pass(4000);
    expect(host.last("RESULT")).toMatchObject({ shot: 2, why: "longest-time" });
  });
});

describe("time and specimens", () => {
  it("gives the same samples from the same seed and commands, and others from another seed", () => {
    const told = (seed: number) => {
      const host = new TestHost({ seed, speed: 30 });
      host.shoot({ raw: 200 });
      host.rig.rest(1000);
      host.shoot({ shot: 2, loading: "all", every: "half-cycle", amps: 60_000 });
      return host.lines.map((line) => Buffer.from(line.bytes).toString());
    };
    expect(told(3)).toEqual(told(3));
    expect(told(3).join("")).not.toBe(told(4).join(""));
  });

  it("draws the errors of its current from the seed, not from the moment", () => {
    const values = (seed: number, waitMs: number) => {
      const host = new TestHost({ seed });
      host.pass(waitMs);
      host.fire({ longest: 300 });
      host.pass(1000);
      return host.samples().map((one) => one.milliamps);
    };
    expect(values(1, 3000)).toEqual(values(1, 0));
    expect(values(2, 0)[0]).not.toBe(values(1, 0)[0]);
  });

  it("does not let a breaker cool during the shot that heats it", () => {
    const host = new TestHost({ speed: 10 });
    host.shoot();
    expect(host.rig.mounted.heatShare).toBeGreaterThan(0.9);
  });

  it("gives the same current whatever the speed of its clock", () => {
    const values = (speed: number) => {
      const host = new TestHost({ speed });
      host.shoot();
      return host.samples().map((one) => one.milliamps);
    };
    expect(values(1000)).toEqual(values(5));
    expect(values(Number.POSITIVE_INFINITY)).toEqual(values(5));
  });

  it("runs its clock as fast as asked", () => {
    const host = new TestHost({ speed: 60, breaker: "never-trips" });
    host.fire({ longest: 7_200_000 });
    host.pass(10_000);
    expect(host.rig.rigSeconds).toBeCloseTo(600, -1);
    expect(host.rig.speed).toBe(60);
  });

  it("rests no faster than a thousand times the wall, and under current as fast as it can", () => {
    const host = new TestHost({ speed: Number.POSITIVE_INFINITY });
    host.pass(1000);
    expect(host.rig.rigSeconds).toBeCloseTo(1000, -2);
    const from = host.clock.nowMs();
    expect(host.shoot({ amps: 20_000, longest: 7_200_000 }).ontime).toBe(7.2e9);
    expect(host.clock.nowMs() - from).toBeLessThan(500);
  });

  it("keeps each specimen's warmth while another is tested, and lets it cool meanwhile", () => {
    const host = new TestHost({ speed: 100 });
    const cold = host.shoot().ontime;
    const first = host.rig.mounted;
    const second = host.rig.mount(breakerByName("sound"), { ratedAmps: 20, poles: 1, seed: 9 });
    expect(second.heatShare).toBe(0);
    host.shoot({ shot: 2 });
    host.rig.mount(first);
    expect(first.heatShare).toBeGreaterThan(0.1);
    expect(host.shoot({ shot: 3 }).ontime).toBeLessThan(0.9 * cold);
    host.rig.rest(24 * 3600);
    expect(host.shoot({ shot: 4 }).ontime / cold).toBeCloseTo(1, 1);
    expect(first.operations).toBe(2);
  });

  it("tells specimens of one kind apart by their seed, and makes the same one from the same seed", () => {
    const onTime = (seed: number) => {
      const host = new TestHost({ speed: 100 });
      host.rig.mount(breakerByName("sound"), { ratedAmps: 20, poles: 1, seed });
      return host.shoot().ontime;
    };
    expect(onTime(5)).toBe(onTime(5));
    expect(onTime(5)).not.toBe(onTime(6));
  });

  it("takes the rating from the shot where nothing fixes it, and a cold breaker when that changes", () => {
    const host = new TestHost({ speed: 500 });
    const mounted = host.rig.mount(breakerByName("sound"));
    const small = host.shoot({ rated: 20_000, amps: 40_000 });
    const large = host.shoot({ rated: 100_000, amps: 200_000, shot: 2, longest: 600_000 });
    expect(large.ontime / small.ontime).toBeCloseTo(3, 0);
    expect(mounted.operations).toBe(0);
  });

  it("jams-until-exercised is stuck until the handle was worked on the rig", () => {
    const host = new TestHost({ breaker: "jams-until-exercised", speed: 500 });
    expect(host.shoot().outcome).toBe("not-opened");
    host.rig.exerciseHandle(3);
    host.rig.rest(86_400);
    expect(host.shoot({ shot: 2 }).outcome).toBe("opened");
  });

  it("trips sooner in hot air", () => {
    const onTime = (ambientCelsius: number) => new TestHost({ speed: 100, ambientCelsius }).shoot().ontime;
    expect(onTime(40)).toBeLessThan(onTime(25));
    const host = new TestHost({ speed: 100 });
    host.rig.setAmbient(40);
    host.pass(250);
    expect(host.last("STATE").ambient).toBe(40_000);
  });

  it("works on 50 Hz mains", () => {
    const host = new TestHost({ speed: 100, lineHz: 50 });
    host.shoot();
    expect(host.last("SAMPLE").step).toBe(20_000);
  });

  it("will not have its breaker handled, or its time skipped, while armed or on", () => {
    const host = new TestHost();
    host.arm();
    for (const act of [
      () => host.rig.mount(breakerByName("sound")),
      () => host.rig.exerciseHandle(1),
      () => host.rig.rest(1),
    ])
      expect(act).toThrow("only while the rig is not armed and no shot is under way; it is armed");
  });

  it("cools down after an over-temperature before it lets itself be used", () => {
    const host = new TestHost();
    host.rig.overheatSource();
    expect(host.arm()).toMatchObject({ code: "over-temperature" });
    // From 125 degrees: below the limit of 95 after 321 s, cool enough at 85 only after 460 s.
    host.rig.rest(390);
    host.pass(250);
    expect(host.arm()).toMatchObject({ code: "over-temperature" });
    host.rig.rest(100);
    host.forget();
    host.clock.turn(20);
    expect(host.said("STATE")).toHaveLength(1);
    expect(host.arm().verb).toBe("READY");
  });

  it.each([
    [{ seed: -1 }, "seed must be a whole number from 0 up, found -1"],
    [{ speed: 0 }, "speed must be a number above 0, found 0"],
    [{ speed: Number.NaN }, "speed must be a number above 0, found NaN"],
    [{ poles: 4 }, "poles must be 1, 2 or 3, found 4"],
    [{ ambientCelsius: 200 }, "ambient must be from -40 to 85 degrees Celsius, found 200"],
    [{ ratedAmps: 30, breaker: { ...breakerByName("sound"), ratedAmps: 20 } }, "has ratedAmps 20; found 30"],
  ])("refuses %j", (options, words) => {
    const make = () =>
      new EmulatedRig({
        seed: 1,
        speed: 1,
        breaker: breakerByName("sound"),
        clock: new HandTurnedClock(),
        ...options,
      });
    expect(make).toThrow(words);
  });
});
