import { describe, expect, it } from "vitest";
import { BreakerPhysics } from "../../../firmware-protocol/emulated-rig/breaker-physics.ts";
import { breakerByName } from "../../../firmware-protocol/emulated-rig/built-in-breakers.ts";
import { CurrentSource } from "../../../firmware-protocol/emulated-rig/current-source.ts";
import { RunningShot } from "../../../firmware-protocol/emulated-rig/running-shot.ts";
import { SeededRandom } from "../../../firmware-protocol/emulated-rig/seeded-random.ts";
import { ShotSimulation } from "../../../firmware-protocol/emulated-rig/shot-simulation.ts";
import type { RigMessage } from "../../../firmware-protocol/messages.ts";
import { ShotRecorder } from "../../../src/bench/shot-recorder.ts";
import { readShot } from "../../../src/core/signal/read-shot.ts";
import type { RawWindow, SampleRun, ShotEvent } from "../../../src/core/signal/shot-signal.ts";
import { context as plain } from "./_synthetic-shot.ts";

/** One shot of the emulated rig at a multiple of 20 A, with what it left behind and what truly happened. */
function shoot(name: string, multiple: number, seed: number, every: "cycle" | "half-cycle", longest: number) {
  const runs: SampleRun[] = [];
  const events: ShotEvent[] = [];
  const raw: RawWindow[] = [];
  const sink = {
    samples: (run: SampleRun) => void runs.push(run),
    event: (event: ShotEvent) => void events.push(event),
    raw: (window: RawWindow) => void raw.push(window),
  };
  const recorder = new ShotRecorder(sink, 1024);
  const say = (message: RigMessage) => {
    if (message.verb === "SAMPLE") recorder.sample(message);
    else if (message.verb === "EVENT") recorder.event(message);
    else if (message.verb === "RAW") recorder.raw(message);
  };
  const random = (use: string) => SeededRandom.stream(seed, use);
  const breaker = new BreakerPhysics(breakerByName(name), 20, 2, random("breaker"));
  const amps = Math.round(20_000 * multiple);
  const order = {
    verb: "ARM",
    shot: 1,
    amps,
    rated: 20_000,
    longest,
    loading: "all",
    every,
    raw: 1024,
  } as const;
  const simulation = new ShotSimulation(order, breaker, new CurrentSource(), random("shot"), 1e6 / 60, 25);
  const shot = new RunningShot(simulation, { say } as never, 77_123_456.7);
  while (!shot.isFinished) shot.step(0);
  recorder.takeResult(shot.finish());
  recorder.flushRaw();
  const reading = readShot(
    {
      runs,
      events,
      raw,
      rigResult: recorder.result,
      hostEnd: simulation.openingUs === null ? "limit" : "rig-ended",
    },
    { ...plain, targetAmps: 20 * multiple, endAtSeconds: longest / 1000 },
  );
  return { reading, trueSeconds: simulation.openingUs === null ? null : simulation.openingUs / 1e6 };
}

describe("shots of the emulated rig, whose truth is known", () => {
  const cases = [2, 3, 6, 20].flatMap((multiple) =>
    (["cycle", "half-cycle"] as const).flatMap((every) =>
      [1, 2, 3, 4].map((seed) => ({ multiple, every, seed })),
    ),
  );

  it.each(cases)("$multiple times rating, RMS per $every, seed $seed", ({ multiple, every, seed }) => {
    const { reading, trueSeconds } = shoot("sound", multiple, seed, every, 300_000);
    expect(reading.outcome).toBe("tripped");
    expect(trueSeconds).not.toBeNull();
    // The rig stamps its clock in whole microseconds.
    expect(reading.interval?.lower).toBeLessThanOrEqual((trueSeconds ?? 0) + 2e-6);
    expect(reading.interval?.upper).toBeGreaterThanOrEqual((trueSeconds ?? 0) - 2e-6);
    expect(Math.abs((reading.seconds ?? 0) - (trueSeconds ?? 0))).toBeLessThan(0.0006);
    expect(reading.poleOpenings?.map((one) => one.pole)).toEqual([1, 2]);
    expect(reading.flags.filter((flag) => flag !== "regulation")).toEqual([]);
  });

  it.each([1, 2, 3])("a breaker that never trips is held to the rig's longest time, seed %s", (seed) => {
    const { reading, trueSeconds } = shoot("never-trips", 2, seed, "cycle", 125_000);
    expect(trueSeconds).toBeNull();
    expect(reading.outcome).toBe("held");
    expect(reading.heldSeconds).toBeCloseTo(125, 1);
    expect(reading.flags).toEqual([]);
  });
});
