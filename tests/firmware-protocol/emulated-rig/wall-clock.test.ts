import { describe, expect, it } from "vitest";
import { decodeLine } from "../../../firmware-protocol/codec/decode-line.ts";
import { encodeLine } from "../../../firmware-protocol/codec/encode-line.ts";
import { LineSplitter } from "../../../firmware-protocol/codec/line-splitter.ts";
import { breakerByName } from "../../../firmware-protocol/emulated-rig/built-in-breakers.ts";
import { EmulatedRig } from "../../../firmware-protocol/emulated-rig/emulated-rig.ts";
import { wallClockWhileAwake } from "../../../firmware-protocol/emulated-rig/wall-clock.ts";
import type { RigMessage } from "../../../firmware-protocol/messages.ts";

describe("the rig on the wall clock of this machine", () => {
  it("runs a two-hour shot at full speed while everything else in the process keeps its turn", async () => {
    const rig = new EmulatedRig({
      seed: 1,
      speed: Number.POSITIVE_INFINITY,
      breaker: breakerByName("sound"),
      ratedAmps: 20,
    });
    const splitter = new LineSplitter();
    let turns = 0;
    let samples = 0;
    let sequence = 0;
    const say = (message: Parameters<typeof encodeLine>[1]) => {
      rig.receive(encodeLine(sequence, message));
      sequence += 1;
    };
    const beat = setInterval(() => say({ verb: "BEAT" }), 100);
    const others = setInterval(() => {
      turns += 1;
    }, 1);
    try {
      const result = await new Promise<Extract<RigMessage, { verb: "RESULT" }>>((resolve) => {
        rig.onBytes((bytes) => {
          for (const line of splitter.push(bytes)) {
            const decoded = decodeLine(line);
            if (!decoded.ok) continue;
            const { message } = decoded;
            if (message.verb === "READY") say({ verb: "FIRE", token: message.token });
            if (message.verb === "SAMPLE") samples += message.values.length;
            if (message.verb === "RESULT") resolve(message);
          }
        });
        rig.start();
        say({
          verb: "ARM",
          shot: 1,
          amps: 20_000,
          rated: 20_000,
          longest: 7_200_000,
          loading: "all",
          every: "cycle",
          raw: 0,
        });
      });
      expect(result).toMatchObject({ outcome: "not-opened", why: "longest-time", ontime: 7.2e9 });
      expect(samples).toBe(result.samples);
      expect(turns).toBeGreaterThan(10);
    } finally {
      clearInterval(beat);
      clearInterval(others);
      rig.stop();
    }
  });
});

describe("wallClockWhileAwake()", () => {
  it("does not count the time for which the process stood still, and never goes back", async () => {
    const clock = wallClockWhileAwake();
    const seen: number[] = [];
    let stood = false;
    await new Promise<void>((resolve) => {
      const leave = clock.every(5, () => {
        seen.push(clock.nowMs());
        if (seen.length === 5) {
          const from = performance.now();
          while (performance.now() - from < 1500) stood = true;
        }
        if (seen.length === 10) {
          leave();
          resolve();
        }
      });
    });
    expect(stood).toBe(true);
    const steps = seen.slice(1).map((at, i) => at - (seen[i] ?? 0));
    expect(Math.min(...steps)).toBeGreaterThanOrEqual(0);
    expect((seen.at(-1) ?? 0) - (seen[0] ?? 0)).toBeLessThan(1500);
  });
});
