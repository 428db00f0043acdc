import { describe, expect, it } from "vitest";
import type { Block } from "../../src/store/sample-blocks.ts";
import { sampleWriter } from "../../src/store/sample-writer.ts";
import { wave } from "./small-lab.ts";

/** A timer that fires when told. */
function manualTimer() {
  let due: { delayMs: number; call: () => void } | null = null;
  return {
    after: (delayMs: number, call: () => void) => {
      due = { delayMs, call };
      return () => {
        due = null;
      };
    },
    delay: () => due?.delayMs ?? null,
    fire: () => {
      const { call } = due ?? { call: () => expect.fail("no timer is running") };
      due = null;
      call();
    },
  };
}

const batch = (place: number, count = 6) => ({
  firstEndUs: place * 10,
  stepUs: 10,
  milliamps: wave(count, place),
});

describe("sampleWriter()", () => {
  it("stores what arrived, in order, contiguous batches as one block, when its time has come", () => {
    const stored: Block[][] = [];
    const timer = manualTimer();
    const writer = sampleWriter((blocks) => stored.push([...blocks]), { after: timer.after });
    expect(timer.delay()).toBeNull();
    writer.event({ atUs: 0, kind: "onset" });
    writer.samples(batch(1));
    writer.samples(batch(7));
    writer.samples(batch(20));
    expect(timer.delay()).toBe(500);
    expect(stored).toEqual([]);
    timer.fire();
    expect(stored.map((blocks) => blocks.map((block) => block.kind))).toEqual([
      ["event", "samples", "samples"],
    ]);
    expect(stored[0]?.[1]).toMatchObject({ run: { firstEndUs: 10, milliamps: { length: 12 } } });
    expect(timer.delay()).toBeNull();
  });

  it("stores on demand and on closing, and refuses what comes later", () => {
    const stored: Block[] = [];
    const timer = manualTimer();
    const writer = sampleWriter((blocks) => stored.push(...blocks), { after: timer.after, flushMs: 1000 });
    writer.samples(batch(1));
    writer.flush();
    expect(stored).toHaveLength(1);
    expect(timer.delay()).toBeNull();
    writer.raw({ window: "onset", firstAtUs: 0, stepNs: 5, milliamps: wave(5, 1) });
    writer.close();
    expect(stored.map((block) => block.kind)).toEqual(["samples", "raw"]);
    expect(timer.delay()).toBeNull();
    expect(() => writer.samples(batch(7))).toThrow("closed");
  });

  it("keeps what a failing disk refused, tells of it, and stores it when the disk recovers", () => {
    const stored: Block[] = [];
    const timer = manualTimer();
    const told: unknown[] = [];
    let full = true;
    const writer = sampleWriter(
      (blocks) => {
        if (full) throw new Error("disk full");
        stored.push(...blocks);
      },
      { after: timer.after, onFailure: (error) => told.push(error) },
    );
    writer.samples(batch(1));
    timer.fire();
    expect(told).toEqual([new Error("disk full")]);
    expect(() => writer.samples(batch(7))).toThrow("disk full");
    expect(() => writer.flush()).toThrow("disk full");
    full = false;
    writer.close();
    expect(stored).toMatchObject([{ kind: "samples", run: { milliamps: { length: 12 } } }]);
  });

  it("refuses at once what can never be stored, and goes on with the rest", () => {
    const stored: Block[] = [];
    const writer = sampleWriter((blocks) => stored.push(...blocks), { after: manualTimer().after });
    expect(() => writer.samples({ firstEndUs: 0.5, stepUs: 10, milliamps: wave(2, 1) })).toThrow(RangeError);
    writer.samples(batch(1));
    writer.close();
    expect(stored).toHaveLength(1);
  });

  it.each([0, 1001, Number.NaN])("refuses to wait %d ms", (flushMs) => {
    expect(() => sampleWriter(() => {}, { flushMs })).toThrow("flushMs must be from 1 to 1000");
  });

  it("works on the machine's own timer", async () => {
    const stored: Block[] = [];
    await new Promise<void>((done) => {
      const writer = sampleWriter(
        (blocks) => {
          stored.push(...blocks);
          done();
        },
        { flushMs: 5 },
      );
      writer.samples(batch(1));
    });
    expect(stored).toHaveLength(1);
  });
});
