import { afterEach, describe, expect, it, vi } from "vitest";
import type { RigMessage } from "../../firmware-protocol/messages.ts";
import { RigRefusal, RigUnreachable, RigUnsuitable } from "../../src/bench/rig-error.ts";
import { RigSession } from "../../src/bench/rig-session.ts";
import { encodeRaw } from "./encode-raw.ts";
import { ScriptedLink } from "./scripted-link.ts";

const quick = { beatMs: 20, answerMs: 15, repeats: 3, askAgainMs: 20 };
const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));
const soon = (look: () => void) => vi.waitFor(look, { timeout: 5000, interval: 5 });
const open: RigSession[] = [];
afterEach(async () => {
  for (const session of open.splice(0)) await session.close();
});

function made(change: (link: ScriptedLink) => void = () => {}): { link: ScriptedLink; session: RigSession } {
  const link = new ScriptedLink();
  change(link);
  const session = new RigSession(link, quick);
  open.push(session);
  return { link, session };
}

const sample = (t0: number, ...values: number[]): RigMessage => ({
  verb: "SAMPLE",
  shot: 1,
  t0,
  step: 16_667,
  values,
});

describe("connecting", () => {
  it("identifies the rig and tells what it said", async () => {
    const { session } = made();
    expect(await session.connect()).toEqual({
      protocol: 1,
      model: "Scripted",
      serial: "S-1",
      firmware: "1",
      lowestAmps: 1,
      highestAmps: 1000,
      timerSeconds: 1e-6,
      tickHz: 1_000_000,
      lineHz: 60,
      rawHz: 10_000,
      longestSeconds: 7200,
      emulated: false,
    });
    expect(session.state?.state).toBe("safe");
  });

  it("says the same HELLO again, byte for byte, until the identification is whole", async () => {
    let hellos = 0;
    const { link, session } = made((one) => {
      one.answer = (message) => {
        if (message.verb !== "HELLO") return false;
        hellos += 1;
        if (hellos === 2) one.say({ verb: "IDENT", item: "protocol", value: "1" });
        return hellos < 3;
      };
    });
    await session.connect();
    const lines = link.said("HELLO").map((line) => String(line.bytes));
    expect(lines).toHaveLength(3);
    expect(new Set(lines).size).toBe(1);
  });

  it.each([
    [
      "another protocol version",
      { protocol: "2" },
      "speaks protocol version 2; this program accepts version 1 only",
    ],
    ["a current that is no number", { "highest-ma": "much" }, 'highest-ma="much"; expected a whole number'],
    ["a range that is upside down", { "lowest-ma": "2000000" }, "above its highest"],
    ["a word for yes that is none", { emulated: "maybe" }, "expected yes or no"],
  ])("refuses a rig with %s, and closes the link", async (_, items, words) => {
    const { link, session } = made((one) => {
      one.items = { ...one.items, ...items };
    });
    const failure = await session.connect().catch((error: unknown) => error);
    expect(failure).toBeInstanceOf(RigUnsuitable);
    expect((failure as Error).message).toContain(words);
    expect(link.isOpen).toBe(false);
    expect(session.connected).toBe(false);
  });

  it("refuses a rig that lacks an item", async () => {
    const { session } = made((one) => {
      const { serial, ...rest } = one.items;
      one.items = rest;
      expect(serial).toBe("S-1");
    });
    await expect(session.connect()).rejects.toThrow('lacks "serial"');
  });

  it("refuses a rig that refuses its version", async () => {
    const { session } = made((one) => {
      one.answer = (message, to) => {
        if (message.verb === "HELLO") one.say({ verb: "REFUSED", to, code: "version", detail: "accepted-2" });
        return message.verb === "HELLO";
      };
    });
    await expect(session.connect()).rejects.toThrow(/protocol version 1, the only one accepted.*accepted-2/);
  });

  it("says so when nothing answers", async () => {
    const { link, session } = made((one) => {
      one.answer = () => true;
    });
    const failure = await session.connect().catch((error: unknown) => error);
    expect(failure).toBeInstanceOf(RigUnreachable);
    expect((failure as Error).message).toMatch(/nothing that speaks as a rig answers at scripted/);
    expect(link.said("HELLO")).toHaveLength(4);
    expect(link.isOpen).toBe(false);
  });

  it.each(["on", "armed"] as const)(
    "switches off a rig that it finds %s, before it is connected",
    async (state) => {
      const { link, session } = made((one) => {
        one.state = { ...one.state, state };
        one.answer = (message, to) => {
          if (message.verb !== "STOP") return false;
          one.say({ verb: "OK", to });
          one.tellState({ state: "safe" });
          return true;
        };
      });
      await session.connect();
      expect(link.said("STOP")).toHaveLength(1);
      expect(link.said("FIRE")).toHaveLength(0);
      expect(session.state?.state).toBe("safe");
    },
  );

  it("fails if the rig does not go safe, and lets go of it so that it loses the heartbeat", async () => {
    const { link, session } = made((one) => {
      one.state = { ...one.state, state: "on" };
    });
    await expect(session.connect()).rejects.toThrow(/did not tell a safe state.*"on"/);
    expect(link.isOpen).toBe(false);
    const beats = link.said("BEAT").length;
    await pause(60);
    expect(link.said("BEAT")).toHaveLength(beats);
  });

  it("can be done again after closing", async () => {
    const { link, session } = made();
    await session.connect();
    await session.close();
    link.restartCounting();
    await session.connect();
    expect(link.opened).toBe(2);
  });
});

describe("commands", () => {
  it("are repeated byte for byte until they are answered", async () => {
    let stops = 0;
    const { link, session } = made((one) => {
      one.answer = (message) => {
        if (message.verb === "STOP") stops += 1;
        return message.verb === "STOP" && stops < 3;
      };
    });
    await session.connect();
    await session.stop();
    await pause(50);
    const lines = link.said("STOP").map((line) => String(line.bytes));
    expect(lines).toHaveLength(3);
    expect(new Set(lines).size).toBe(1);
  });

  it("are given up after their repeats", async () => {
    const { link, session } = made((one) => {
      one.answer = (message) => message.verb === "CLEAR";
    });
    await session.connect();
    await expect(session.clear()).rejects.toThrow("the rig did not answer CLEAR, sent 4 times, 15 ms apart");
    expect(link.said("CLEAR")).toHaveLength(4);
  });

  it("give the rig's own code and detail when refused", async () => {
    const { session } = made((one) => {
      one.answer = (message, to) => {
        if (message.verb === "CLEAR")
          one.say({ verb: "REFUSED", to, code: "fault-present", detail: "stop-button" });
        return message.verb === "CLEAR";
      };
    });
    await session.connect();
    const failure = await session.clear().catch((error: unknown) => error);
    expect(failure).toBeInstanceOf(RigRefusal);
    expect(failure).toMatchObject({ verb: "CLEAR", code: "fault-present", detail: "stop-button" });
  });

  it("are not repeated once STOP has overtaken them", async () => {
    const { link, session } = made((one) => {
      one.answer = (message) => message.verb === "FIRE";
    });
    await session.connect();
    const fire = session.command({ verb: "FIRE", token: "00000000" }).catch((error: unknown) => error);
    await session.stop();
    expect(await fire).toBeInstanceOf(RigUnreachable);
    await pause(60);
    expect(link.said("FIRE")).toHaveLength(1);
  });

  it("are refused when the rig is not connected", async () => {
    const { link, session } = made();
    await expect(session.stop()).rejects.toThrow(/STOP was not sent: the rig at scripted is not connected/);
    expect(link.written).toEqual([]);
  });
});

describe("lines", () => {
  async function listening() {
    const { link, session } = made();
    await session.connect();
    const heard: number[] = [];
    session.on("sample", (message) => heard.push(...message.values));
    return { link, session, heard };
  }

  it("are told in order; those missing are asked for by their numbers", async () => {
    const { link, session, heard } = await listening();
    const lines = [1, 2, 3, 4].map((value) => link.lineOf(sample(value * 16_667, value)));
    const [first, second, third, fourth] = lines as [Uint8Array, Uint8Array, Uint8Array, Uint8Array];
    link.sayLine(first);
    link.sayLine(fourth);
    expect(heard).toEqual([1]);
    await soon(() => expect(link.said("AGAIN")).not.toEqual([]));
    const asked = link.said("AGAIN").map((line) => line.message);
    const number = (line: Uint8Array) => String.fromCharCode(...line.subarray(0, 4));
    expect(asked).toEqual([{ verb: "AGAIN", first: number(second), last: number(third) }]);
    link.sayLine(third);
    link.sayLine(second);
    link.sayLine(second);
    expect(heard).toEqual([1, 2, 3, 4]);
    expect(session.health).toMatchObject({
      askedAgain: 2,
      recovered: 2,
      missing: 0,
      duplicates: 1,
      damaged: 0,
    });
  });

  it("that fail their check are counted and asked for, never used", async () => {
    const { link, session, heard } = await listening();
    const line = link.lineOf(sample(16_667, 5));
    const damaged = line.slice();
    damaged[12] = (damaged[12] ?? 0) ^ 4;
    link.sayLine(damaged);
    link.say(sample(2 * 16_667, 6));
    expect(session.health).toMatchObject({ damaged: 1 });
    expect(session.health.lastProblem).toContain("frame-crc");
    link.sayLine(line);
    expect(heard).toEqual([5, 6]);
  });

  it("that the rig no longer keeps are given up and counted, and the rest goes on", async () => {
    const { link, session, heard } = await listening();
    link.answer = (message) => {
      if (message.verb === "AGAIN") link.say({ verb: "GONE", first: message.first, last: message.last });
      return message.verb === "AGAIN";
    };
    link.lineOf(sample(16_667, 1));
    link.say(sample(2 * 16_667, 2));
    await soon(() => expect(heard).toEqual([2]));
    expect(session.health.missing).toBe(1);
  });

  it("that never come are given up after a few requests", async () => {
    const { link, session, heard } = await listening();
    link.lineOf(sample(16_667, 1));
    link.say(sample(2 * 16_667, 2));
    await soon(() => expect(heard).toEqual([2]));
    expect(session.health.missing).toBe(1);
    expect(link.said("AGAIN").length).toBeLessThanOrEqual(6);
  });

  it("with an unknown message or a value out of range are counted with what was found, and hold nothing up", async () => {
    const { link, session, heard } = await listening();
    const number = () => String.fromCharCode(...link.lineOf(sample(16_667, 1)).subarray(0, 4));
    link.sayLine(encodeRaw(`${number()} SING song=1`));
    expect(session.health.lastProblem).toContain("SING");
    link.sayLine(encodeRaw(`${number()} SAMPLE shot=0 t0=1 step=1 1`));
    expect(session.health.lastProblem).toContain("shot");
    expect(session.health.damaged).toBe(2);
    link.say(sample(2 * 16_667, 2));
    expect(heard).toEqual([2]);
    expect(session.missingNow).toBe(0);
  });

  it("of the host's own that come back are found out as an echo", async () => {
    const { link, session } = await listening();
    const own = link.said("BEAT")[0]?.bytes.subarray(0, -1) as Uint8Array;
    link.sayLine(own);
    expect(session.health.lastProblem).toContain("echoes");
  });

  it("may be any bytes without doing harm", async () => {
    const { link, session, heard } = await listening();
    for (let seed = 0; seed < 500; seed += 1)
      link.sayLine(Uint8Array.from({ length: seed % 140 }, (_, i) => (seed * 31 + i * 17) % 256));
    link.say(sample(16_667, 9));
    expect(heard).toEqual([9]);
    expect(session.health.damaged).toBe(500);
  });
});

describe("the heartbeat", () => {
  it("goes on as long as the rig is heard", async () => {
    const { link, session } = made();
    await session.connect();
    const before = link.said("BEAT").length;
    await soon(() => expect(link.said("BEAT").length - before).toBeGreaterThan(8));
    expect(session.connected).toBe(true);
  });

  it("ends, and the line counts as lost, when nothing is heard; STOP is tried all the same", async () => {
    const { link, session } = made();
    await session.connect();
    const losses: string[] = [];
    session.on("lost", (reason) => losses.push(reason));
    link.tellState({ state: "on" });
    link.answer = () => true;
    await soon(() => expect(losses).toHaveLength(1));
    expect(losses[0]).toContain("nothing was heard from the rig for 100 ms");
    expect(link.said("STOP").length).toBeGreaterThan(0);
    expect(link.isOpen).toBe(false);
    const written = link.written.length;
    await pause(60);
    expect(link.written).toHaveLength(written);
  });

  it("ends when the link is lost; what waits for an answer is told", async () => {
    const { link, session } = made((one) => {
      one.answer = (message) => message.verb === "CLEAR";
    });
    await session.connect();
    const clear = session.clear().catch((error: unknown) => error);
    link.lose("the plug fell out");
    expect(await clear).toMatchObject({ message: "CLEAR was not answered: the plug fell out" });
    expect(session.connected).toBe(false);
  });

  it("ends when the rig restarts: it counts its lines and its clock anew", async () => {
    const { link, session } = made();
    await session.connect();
    const losses: string[] = [];
    session.on("lost", (reason) => losses.push(reason));
    link.restartCounting();
    link.state = { ...link.state, at: 0 };
    await soon(() => expect(losses).toEqual(["the rig restarted"]));
  });

  it("ends when the rig's clock runs backwards, even if its numbers seem to go on", async () => {
    const { link, session } = made();
    await session.connect();
    const losses: string[] = [];
    session.on("lost", (reason) => losses.push(reason));
    link.state = { ...link.state, at: 0 };
    await soon(() => expect(losses).toEqual(["the rig restarted"]));
  });

  it("is not deceived by one line that cannot be", async () => {
    const { link, session } = made();
    await session.connect();
    link.sayLine(encodeRaw("F000 OK to=0001"));
    link.tellState();
    link.sayLine(encodeRaw("F000 OK to=0001"));
    link.tellState();
    await pause(60);
    expect(session.connected).toBe(true);
  });
});

describe("results", () => {
  it("of a shot that nobody waits for are acknowledged, so that the rig can arm again", async () => {
    const { link, session } = made();
    await session.connect();
    link.say({ verb: "RESULT", shot: 7, outcome: "opened", why: "opened", ontime: 1, rms: 1, samples: 0 });
    const done = [{ verb: "DONE", shot: 7 }];
    await soon(() => expect(link.said("DONE").map((line) => line.message)).toEqual(done));
  });
});

describe("closing", () => {
  it("switches off first where current may flow", async () => {
    const { link, session } = made();
    await session.connect();
    link.tellState({ state: "on" });
    await session.close();
    expect(link.said("STOP")).toHaveLength(1);
    expect(link.isOpen).toBe(false);
  });

  it("lets a second close come to nothing", async () => {
    const { session } = made();
    await session.connect();
    await session.close();
    await session.close();
  });
});
