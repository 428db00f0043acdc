import { readFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readShot } from "../../../src/core/signal/read-shot.ts";
import type { ReadingContext } from "../../../src/core/signal/reading-context.ts";
import { firstOrderThermal } from "../../../src/core/signal/sensitivity.ts";
import type { HostEnd, OffReason, SampleRun, ShotSignal } from "../../../src/core/signal/shot-signal.ts";
import {
  context,
  part,
  plainTrip,
  sampled,
  sixtyHertz,
  type Truth,
  tripSignal,
  without,
} from "./_synthetic-shot.ts";

const run = sampled(plainTrip);
const ended = (why: OffReason | null, hostEnd: HostEnd, atUs = plainTrip.endUs): ShotSignal => ({
  ...tripSignal(plainTrip),
  events: why === null ? [] : [{ atUs, kind: "off", why }],
  hostEnd,
});
const read = (signal: ShotSignal, changes: Partial<ReadingContext> = {}) =>
  readShot(signal, { ...context, ...changes });

describe("a trip", () => {
  it("has its time, the interval around it, the current as held and no flag", () => {
    const reading = read(tripSignal(plainTrip));
    expect(reading.outcome).toBe("tripped");
    expect(reading.seconds).toBeCloseTo(24, 2);
    expect(reading.interval?.lower).toBeLessThanOrEqual(24);
    expect(reading.interval?.upper).toBeGreaterThanOrEqual(24);
    expect((reading.interval?.upper ?? 0) - (reading.interval?.lower ?? 0)).toBeLessThan(0.05);
    expect(reading.effectiveAmps).toBeCloseTo(40, 2);
    expect(reading.multiple).toBeCloseTo(2, 4);
    expect(reading.flags).toEqual([]);
    expect(reading.samples).toBe(run.milliamps.length);
  });

  it("that the rig did not notice is a trip when current ends before the source is switched off", () => {
    expect(read(ended("host-stop", "limit", 24_900_000)).outcome).toBe("tripped");
    expect(read(ended("interlock", "interlock", 24_900_000)).outcome).toBe("tripped");
  });

  it("tells when each pole opened, where the rig says so", () => {
    const signal = tripSignal(plainTrip);
    const opened = [
      { atUs: 24_504_000, kind: "opening", pole: 2 } as const,
      { atUs: 24_500_000, kind: "opening", pole: 1 } as const,
    ];
    const { poleOpenings } = read({ ...signal, events: [...signal.events, ...opened] });
    expect(poleOpenings?.map((one) => one.pole)).toEqual([1, 2]);
    expect((poleOpenings?.[1]?.seconds ?? 0) - (poleOpenings?.[0]?.seconds ?? 0)).toBeCloseTo(0.004, 9);
    expect(read(signal).poleOpenings).toBeUndefined();
  });

  it("within one window is found, its current known as a lower bound only", () => {
    const short: Truth = { ...plainTrip, onsetUs: 500_500, endUs: 512_000, lengthUs: 800_000 };
    const reading = read(tripSignal(short));
    expect(reading.outcome).toBe("tripped");
    expect(reading.interval?.lower).toBeLessThanOrEqual(0.0115);
    expect(reading.interval?.upper).toBeGreaterThanOrEqual(0.0115);
    expect(reading.effectiveAmps).toBeLessThanOrEqual(40);
  });
});

describe("how a shot ended", () => {
  const outcomes: [OffReason | null, HostEnd, string][] = [
    ["opened", "rig-ended", "tripped"],
    ["opened", "operator", "tripped"],
    ["host-stop", "limit", "held"],
    ["host-stop", "operator", "interrupted"],
    ["host-stop", "interlock", "interrupted"],
    ["longest-time", "rig-ended", "held"],
    ["heartbeat-lost", "link-lost", "interrupted"],
    ["heartbeat-lost", "limit", "interrupted"],
    ["interlock", "rig-ended", "interrupted"],
    ["over-temperature", "rig-ended", "interrupted"],
    ["stop-button", "rig-ended", "interrupted"],
    ["source-fault", "rig-ended", "interrupted"],
    ["host-stop", "rig-ended", "interrupted"],
    [null, "limit", "held"],
    [null, "operator", "interrupted"],
    [null, "link-lost", "interrupted"],
    [null, "host-died", "interrupted"],
    [null, "rig-ended", "interrupted"],
  ];
  it.each(outcomes)("off because %s, ended by %s: %s", (why, hostEnd, outcome) => {
    const atUs = why === "opened" ? plainTrip.endUs + 30_000 : plainTrip.endUs;
    const reading = read(ended(why, hostEnd, atUs), { endAtSeconds: 24 });
    expect(reading.outcome).toBe(outcome);
    expect(reading.heldSeconds).toBeCloseTo(24, 2);
    expect(reading.seconds === null).toBe(outcome !== "tripped");
    expect(reading.uncertainty === null).toBe(outcome !== "tripped");
  });

  it("the rig's longest time before the programme's end is no hold", () => {
    expect(read(ended("longest-time", "rig-ended"), { endAtSeconds: 60 }).outcome).toBe("interrupted");
    expect(read(ended("longest-time", "rig-ended")).outcome).toBe("interrupted");
  });

  it("the rig's result names the reason where its event is lost", () => {
    const rigResult = {
      outcome: "opened",
      why: "opened",
      onTimeUs: 24_000_000,
      rmsMilliamps: 40_000,
      samples: run.milliamps.length,
    } as const;
    const lit = part(run, 0, 1400);
    expect(read({ ...ended(null, "rig-ended"), rigResult }).outcome).toBe("tripped");
    const reading = read({
      ...ended(null, "rig-ended"),
      runs: [lit],
      rigResult: { ...rigResult, samples: 1500 },
    });
    expect(reading.outcome).toBe("tripped");
    expect(reading.interval?.upper).toBeGreaterThanOrEqual(24);
    expect(reading.interval?.lower).toBeLessThan(23);
    expect(reading.flags).toContain("gap");
  });

  it("is not held where samples before the end are missing", () => {
    const cut = part(run, 0, 1200);
    const reading = read({ ...ended("host-stop", "limit"), runs: [cut] });
    expect(reading.outcome).toBe("interrupted");
    expect(reading.heldSeconds).toBeCloseTo(1200 * 0.016667 - 0.5, 2);
    expect(reading.flags).toContain("gap");
  });

  it("counts the time held for a hold over its whole length, whatever happened before the onset", () => {
    const reading = read(ended("host-stop", "limit"), { endAtSeconds: 24 });
    expect(reading.heldSeconds).toBeCloseTo(24, 2);
    expect(reading.interval).toBeNull();
  });
});

describe("an onset that is not shown", () => {
  const late = [part(run, 60, run.milliamps.length)];

  it("leaves the time unknown and is flagged", () => {
    const reading = read({
      ...tripSignal(plainTrip, late),
      events: [{ atUs: 24_540_000, kind: "off", why: "opened" }],
    });
    expect(reading.flags).toEqual(["no-onset"]);
    expect(reading.outcome).toBe("tripped");
    expect(reading.seconds).toBeNull();
    expect(reading.heldSeconds).toBeCloseTo(24.5 - 60 * 0.016667, 2);
  });

  it("is bounded by the rig's event, the missing samples being a gap", () => {
    const reading = read(tripSignal(plainTrip, late));
    expect(reading.flags).toEqual(["gap"]);
    expect(reading.interval?.lower).toBeLessThanOrEqual(24);
    expect(reading.interval?.upper).toBeGreaterThanOrEqual(24);
  });

  it("takes the event for the best point where windows begin at the onset and none is dark before", () => {
    // The first window reads a little low, as from a source that settles: no sign of a later onset.
    const aligned = sampled({ ...plainTrip, onsetUs: 30 * 16_667 });
    const milliamps = aligned.milliamps.map((value, i) => (i === 30 ? Math.round(0.97 * value) : value));
    const runs = [part({ ...aligned, milliamps }, 30, milliamps.length)];
    const reading = read(tripSignal({ ...plainTrip, onsetUs: 30 * 16_667 }, runs));
    expect(reading.seconds).toBeCloseTo((24_500_000 - 30 * 16_667) / 1e6, 3);
    expect(reading.flags).toEqual([]);
  });

  it("is flagged where no current ever flowed, and where nothing was received", () => {
    const dark = { ...run, milliamps: new Int32Array(500).fill(40) };
    for (const runs of [[dark], []]) {
      const reading = read({ ...tripSignal(plainTrip), runs });
      expect(reading.flags).toEqual(["no-onset"]);
      expect(reading.outcome).toBe("interrupted");
      expect(reading.effectiveAmps).toBe(0);
      expect(reading.heldSeconds).toBe(0);
    }
  });
});

describe("flags", () => {
  const scaled = (factor: number) => tripSignal({ ...plainTrip, amps: 40 * factor });
  it.each([
    [1.01, []],
    [1.03, ["regulation"]],
    [0.97, ["regulation"]],
    [1.15, ["regulation-gross"]],
    [0.88, ["never-reached-target"]],
    [0.4, ["never-reached-target"]],
  ])("current at %s times the target", (factor, flags) => {
    expect(read(scaled(factor)).flags).toEqual(flags);
  });

  it("a lone window outside the tolerance is noise, one in fifty is not", () => {
    const spiked = (every: number) => {
      const milliamps = run.milliamps.slice();
      for (let i = 100; i < 1400; i += every) milliamps[i] = 42_000;
      return read(tripSignal(plainTrip, [{ ...run, milliamps }]));
    };
    expect(spiked(5000).flags).toEqual([]);
    expect(spiked(5000).highestAmps).toBe(42);
    expect(spiked(50).flags).toEqual(["regulation"]);
  });

  it("under three cycles allow for the phase: only half the target was never reached", () => {
    const brief = (factor: number) =>
      read(
        tripSignal({ ...plainTrip, amps: 40 * factor, onsetUs: 500_500, endUs: 530_000, lengthUs: 800_000 }),
      );
    expect(brief(1).flags).toEqual([]);
    expect(brief(0.7).flags).toEqual(["regulation"]);
    expect(brief(0.4).flags).toEqual(["never-reached-target"]);
  });

  it("a current that comes late to target after a sag is gross only where it matters", () => {
    const milliamps = run.milliamps.map((value, i) => (i < 700 ? Math.round(value * 0.7) : value));
    expect(read(tripSignal(plainTrip, [{ ...run, milliamps }])).flags).toEqual(["regulation-gross"]);
  });

  it("ambient, coldness and calibration", () => {
    const signal = tripSignal(plainTrip);
    expect(read(signal, { ambientCelsius: null }).flags).toEqual(["ambient-unknown"]);
    expect(read(signal, { ambientCelsius: null, ambientRange: null }).flags).toEqual([]);
    expect(read(signal, { ambientCelsius: 28 }).flags).toEqual([]);
    expect(read(signal, { ambientCelsius: 28.1 }).flags).toEqual(["ambient-out-of-range"]);
    expect(read(signal, { coldness: "not cold" }).flags).toEqual(["not-cold"]);
    expect(read(signal, { coldness: "unknown" }).flags).toEqual([]);
    expect(read(signal, { calibrationPastDue: true }).flags).toEqual(["calibration-past-due"]);
  });

  it("a clock that runs back, or jumps although the rig's count shows nothing missing", () => {
    const [a, b] = [part(run, 0, 700), part(run, 700, run.milliamps.length)];
    const moved = (byUs: number): SampleRun[] => [a, { ...b, firstEndUs: b.firstEndUs + byUs }];
    const rigResult = {
      outcome: "opened",
      why: "opened",
      onTimeUs: 24_000_000,
      rmsMilliamps: 40_000,
      samples: run.milliamps.length,
    } as const;
    expect(read({ ...tripSignal(plainTrip, moved(-100_000)) }).flags).toContain("clock-step");
    expect(read({ ...tripSignal(plainTrip, moved(10_000_000)), rigResult }).flags).toContain("clock-step");
    expect(read({ ...tripSignal(plainTrip, moved(10_000_000)), rigResult }).flags).not.toContain("gap");
    expect(read({ ...tripSignal(plainTrip, moved(0)), rigResult }).flags).toEqual([]);
    // A window of the line wanders by microseconds: neither a gap nor a step.
    expect(read({ ...tripSignal(plainTrip, moved(90)), rigResult }).flags).toEqual([]);
    expect(read({ ...tripSignal(plainTrip, moved(-90)), rigResult }).flags).toEqual([]);
  });

  it("disagreement with the rig's own result and events", () => {
    const own = {
      outcome: "opened",
      why: "opened",
      onTimeUs: 24_000_000,
      rmsMilliamps: 40_000,
      samples: run.milliamps.length,
    } as const;
    const flags = (change: Partial<ShotSignal>) => read({ ...tripSignal(plainTrip), ...change }).flags;
    expect(flags({ rigResult: own })).toEqual([]);
    expect(flags({ rigResult: { ...own, onTimeUs: 24_030_000 } })).toEqual([]);
    expect(flags({ rigResult: { ...own, onTimeUs: 24_100_000 } })).toEqual(["rig-disagrees"]);
    expect(flags({ rigResult: { ...own, rmsMilliamps: 39_700 } })).toEqual([]);
    expect(flags({ rigResult: { ...own, rmsMilliamps: 39_500 } })).toEqual(["rig-disagrees"]);
    expect(flags({ rigResult: { ...own, outcome: "not-opened", why: "host-stop" } })).toEqual([
      "rig-disagrees",
    ]);
    const earlyOff = { atUs: 20_000_000, kind: "off", why: "opened" } as const;
    expect(flags({ events: [earlyOff] })).toEqual(["rig-disagrees"]);
    expect(flags({ events: [{ atUs: 300_000, kind: "onset" }] })).toContain("rig-disagrees");
  });
});

describe("gaps", () => {
  it("in the middle change neither outcome nor interval, and leave the current as it was measured", () => {
    const whole = read(tripSignal(plainTrip));
    const holed = read(
      tripSignal(
        plainTrip,
        without(run, (i) => i < 300 || i > 900),
      ),
    );
    expect(holed.interval).toEqual(whole.interval);
    expect(holed.seconds).toEqual(whole.seconds);
    expect(holed.effectiveAmps).toBeCloseTo(whole.effectiveAmps, 3);
    expect(holed.flags).toEqual(["gap"]);
  });

  it("at the opening make it an interval as wide as the gap, and the uncertainty follows", () => {
    const gapFrom = 1440;
    const gapTo = 1500;
    const reading = read({
      ...tripSignal(
        plainTrip,
        without(run, (i) => i < gapFrom || i >= gapTo),
      ),
      events: [{ atUs: 24_990_000, kind: "off", why: "opened" }],
    });
    expect(reading.outcome).toBe("tripped");
    expect(reading.interval?.lower).toBeLessThan(gapFrom * 0.016667 - 0.5);
    expect(reading.interval?.upper).toBeGreaterThan(24.48);
    const opening = reading.uncertainty?.budget.find((line) => line.contribution.includes("opening"));
    expect(opening?.seconds).toBeGreaterThan((0.5 * (gapTo - gapFrom) * 0.016667) / Math.sqrt(3));
  });
});

describe("effective current", () => {
  it("weighs by energy: 45 A for 10 s, 44 A for 10 s, 43.5 A for 8 s are 44.21861 A", () => {
    // I_eq = sqrt((1/t) integral i^2 dt); arithmetic: (10*45^2 + 10*44^2 + 8*43.5^2) / 28 = 1955.2857.
    const levels = [0, 45_000, ...Array(100).fill(45_000), ...Array(100).fill(44_000)];
    levels.push(...Array(80).fill(43_500), 43_500, 0, 0, 0);
    const milliamps = Int32Array.from(levels);
    const signal: ShotSignal = {
      runs: [{ firstEndUs: 100_000, stepUs: 100_000, milliamps }],
      events: [{ atUs: 28_500_000, kind: "off", why: "opened" }],
      raw: [],
      rigResult: null,
      hostEnd: "rig-ended",
    };
    const reading = read(signal, { targetAmps: 44 });
    expect(reading.effectiveAmps).toBeCloseTo(44.21861, 5);
    expect(reading.lowestAmps).toBe(43.5);
    expect(reading.highestAmps).toBe(45);
  });

  it("falling in a straight line drifts by its slope, with no ripple about it", () => {
    const milliamps = Int32Array.from({ length: 602 }, (_, i) => (i === 0 || i > 600 ? 0 : 41_000 - i));
    const signal: ShotSignal = {
      ...tripSignal(plainTrip, [{ firstEndUs: 100_000, stepUs: 100_000, milliamps }]),
      events: [{ atUs: 60_200_000, kind: "off", why: "opened" }],
    };
    const { steadiness } = read(signal);
    expect(steadiness?.driftAmpsPerMinute).toBeCloseTo(-0.6, 6);
    expect(steadiness?.rippleAmps).toBeCloseTo(0, 6);
  });
});

describe("uncertainty of a trip", () => {
  it("is carried by the current: |n| t u(I)/I beside detection and timer", () => {
    const reading = read(tripSignal(plainTrip));
    const [current] = reading.uncertainty?.budget ?? [];
    const x = 2 / 1.1;
    const slope = 2 / ((x * x - 1) * Math.log((x * x) / (x * x - 1)));
    expect(current?.seconds).toBeCloseTo(slope * 24 * 0.005, 3);
    expect(current?.share).toBeGreaterThan(0.9);
    expect(reading.uncertainty?.k).toBe(2);
    expect(reading.uncertainty?.budget.reduce((sum, line) => sum + line.share, 0)).toBeCloseTo(1, 10);
  });

  it("is absent where the model says nothing, the time still standing", () => {
    const reading = read(tripSignal(plainTrip), { sensitivity: () => null });
    expect(reading.seconds).toBeCloseTo(24, 2);
    expect(reading.uncertainty).toBeNull();
    expect(reading.atTarget).toBeUndefined();
  });

  it("stands beside the time at the target, which is the observed time where the current was the target", () => {
    const reading = read(tripSignal({ ...plainTrip, amps: 40.4 }));
    expect(reading.atTarget?.seconds).toBeGreaterThan(reading.seconds ?? 0);
    expect(read(tripSignal(plainTrip)).atTarget?.seconds).toBeCloseTo(24, 1);
  });
});

describe("refusals", () => {
  it.each([
    [{ targetAmps: 0 }, "targetAmps"],
    [{ targetAmps: Number.NaN }, "targetAmps"],
    [{ ratedAmps: -20 }, "ratedAmps"],
    [{ regulationPercent: -1 }, "regulationPercent"],
    [{ basis: { currentPercent: -1, currentK: 2, timerSeconds: 0 } }, "currentPercent"],
    [{ basis: { currentPercent: 1, currentK: 0, timerSeconds: 0 } }, "currentK"],
    [{ basis: { currentPercent: 1, currentK: 2, timerSeconds: -1 } }, "timerSeconds"],
    [{ ambientCelsius: Number.NaN }, "ambientCelsius"],
  ])("a context with %o", (changes, field) => {
    expect(() => read(tripSignal(plainTrip), changes)).toThrow(field);
  });
});

const truths: fc.Arbitrary<Truth> = fc
  .record({
    amps: fc.double({ min: 30, max: 50, noNaN: true }),
    onsetUs: fc.integer({ min: 40_000, max: 200_000 }),
    onUs: fc.integer({ min: 70_000, max: 3_000_000 }),
    half: fc.boolean(),
    lineHz: fc.constantFrom(50, 60),
    phase: fc.double({ min: 0, max: Math.PI, noNaN: true }),
    noiseSeed: fc.integer({ min: 1, max: 1e6 }),
  })
  .map(({ onUs, half, noiseSeed, ...truth }) => ({
    ...truth,
    endUs: truth.onsetUs + onUs,
    lengthUs: truth.onsetUs + onUs + 300_000,
    stepUs: Math.round(1e6 / truth.lineHz / (half ? 2 : 1)),
    noise: (i: number) => 0.3 * Math.sin(i * 12.9898 + noiseSeed),
  }));

const contains = (outer: { lower: number; upper: number } | null, inner: { lower: number; upper: number }) =>
  outer === null || (outer.lower <= inner.lower + 1e-6 && outer.upper >= inner.upper - 1e-6);

describe("laws", () => {
  it("the true on-time lies in the interval, whatever the phase, the window and the noise", () => {
    fc.assert(
      fc.property(truths, (truth) => {
        const { interval, outcome } = read(tripSignal(truth));
        const seconds = (truth.endUs - truth.onsetUs) / 1e6;
        expect(outcome).toBe("tripped");
        expect(contains(interval, { lower: seconds, upper: seconds })).toBe(true);
      }),
      { numRuns: 400 },
    );
  });

  it("cutting contiguous samples into other runs changes no byte", () => {
    fc.assert(
      fc.property(truths, fc.array(fc.nat(200), { maxLength: 12 }), (truth, cuts) => {
        const whole = sampled(truth);
        const places = [0, ...cuts.toSorted((a, b) => a - b), whole.milliamps.length];
        const pieces = places.slice(1).map((to, i) => part(whole, places[i] ?? 0, to));
        expect(JSON.stringify(read(tripSignal(truth, pieces)))).toBe(JSON.stringify(read(tripSignal(truth))));
      }),
    );
  });

  it("another start of the rig's clock changes no byte", () => {
    fc.assert(
      fc.property(truths, fc.integer({ min: 0, max: 2 ** 45 }), (truth, clockUs) => {
        const moved = read(tripSignal({ ...truth, clockUs }));
        expect(JSON.stringify(moved)).toBe(JSON.stringify(read(tripSignal(truth))));
      }),
    );
  });

  it("losing samples never narrows the interval, and never makes up a trip time outside it", () => {
    fc.assert(
      fc.property(truths, fc.nat(250), fc.nat(80), (truth, from, length) => {
        const whole = read(tripSignal(truth));
        const holed = read(
          tripSignal(
            truth,
            without(sampled(truth), (i) => i < from || i >= from + length),
          ),
        );
        expect(contains(holed.interval, whole.interval ?? { lower: 0, upper: 0 })).toBe(true);
        if (holed.seconds !== null && holed.interval !== null) {
          expect(holed.seconds).toBeGreaterThanOrEqual(holed.interval.lower);
          expect(holed.seconds).toBeLessThanOrEqual(holed.interval.upper);
        }
      }),
      { numRuns: 400 },
    );
  });

  it("the effective current lies between the lowest and the highest sample", () => {
    fc.assert(
      fc.property(truths, (truth) => {
        const { lowestAmps, effectiveAmps, highestAmps } = read(tripSignal(truth));
        expect(lowestAmps).toBeLessThanOrEqual(effectiveAmps);
        expect(effectiveAmps).toBeLessThanOrEqual(highestAmps);
      }),
    );
  });

  it("the time held for an interrupted shot is never longer than the true one by more than a window", () => {
    fc.assert(
      fc.property(truths, (truth) => {
        const signal: ShotSignal = { ...tripSignal(truth), events: [], hostEnd: "link-lost" };
        const reading = read(signal);
        expect(reading.outcome).toBe("interrupted");
        expect(reading.heldSeconds).toBeLessThanOrEqual((truth.endUs - truth.onsetUs + truth.stepUs) / 1e6);
      }),
    );
  });

  it("gives the same bytes on every machine: those kept in tests/fixtures/golden", () => {
    const file = join(import.meta.dirname, "../../fixtures/golden/reading.json");
    const readings = [
      read(tripSignal({ ...plainTrip, amps: 40.3, noise: (i) => ((i * 7919) % 101) / 500 - 0.1 })),
      read(
        tripSignal(
          plainTrip,
          without(run, (i) => i < 1440 || i >= 1470),
        ),
        { sensitivity: firstOrderThermal(1.9) },
      ),
      read(ended("host-stop", "limit"), { ambientCelsius: null }),
    ];
    expect(`${JSON.stringify(readings, null, 1)}\n`).toBe(readFileSync(file, "utf8"));
  });

  it("does not touch its input", () => {
    const signal = tripSignal(plainTrip);
    const before = JSON.stringify(signal);
    read(Object.freeze(signal));
    expect(JSON.stringify(signal)).toBe(before);
    expect(sixtyHertz.stepUs).toBe(plainTrip.stepUs);
  });
});
