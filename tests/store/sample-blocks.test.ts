import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { RawWindow, SampleRun, ShotEvent } from "../../src/core/signal/shot-signal.ts";
import { type Block, decodeBlock, encodeBlock } from "../../src/store/sample-blocks.ts";

const time = fc.oneof(fc.nat(), fc.integer({ min: 0, max: Number.MAX_SAFE_INTEGER }));
const step = fc.integer({ min: 1, max: 1e9 });
const milliamps = fc.int32Array({ minLength: 1, maxLength: 200 });
const run: fc.Arbitrary<SampleRun> = fc.record({ firstEndUs: time, stepUs: step, milliamps });
const window: fc.Arbitrary<RawWindow> = fc.record({
  window: fc.constantFrom("onset", "opening"),
  firstAtUs: time,
  stepNs: step,
  milliamps,
});
const event: fc.Arbitrary<ShotEvent> = fc.oneof(
  fc.record({ atUs: time, kind: fc.constant("onset") }),
  fc.record({ atUs: time, kind: fc.constant("opening"), pole: fc.integer({ min: 1, max: 3 }) }),
  fc.record({ atUs: time, kind: fc.constant("opening") }),
  fc.record({
    atUs: time,
    kind: fc.constant("off"),
    why: fc.constantFrom("opened", "link-lost", "stop-button"),
  }),
) as fc.Arbitrary<ShotEvent>;
const block: fc.Arbitrary<Block> = fc.oneof(
  run.map((value): Block => ({ kind: "samples", run: value })),
  window.map((value): Block => ({ kind: "raw", window: value })),
  event.map((value): Block => ({ kind: "event", event: value })),
);

describe("sample blocks", () => {
  it("read back as what was written, whatever it was", () => {
    fc.assert(
      fc.property(block, (written) => {
        expect(decodeBlock(encodeBlock(written))).toEqual(written);
      }),
    );
  });

  it("have the bytes that the drawing says", () => {
    const { kind, payload } = encodeBlock({
      kind: "samples",
      run: { firstEndUs: 300, stepUs: 16667, milliamps: Int32Array.of(100, 99, 101, -1) },
    });
    expect(kind).toBe(1);
    // 300 = 2*128+44; 16667 = 1*16384 + 2*128 + 27; 4; 100 -> 200 = 1*128+72; -1 -> 1; +2 -> 4; -102 -> 203 = 1*128+75.
    expect([...payload]).toEqual([128 + 44, 2, 128 + 27, 128 + 2, 1, 4, 128 + 72, 1, 1, 4, 128 + 75, 1]);
    const raw = encodeBlock({
      kind: "raw",
      window: { window: "opening", firstAtUs: 5, stepNs: 7, milliamps: Int32Array.of(-3) },
    });
    expect([raw.kind, ...raw.payload]).toEqual([2, 1, 5, 7, 1, 5]);
    const off = encodeBlock({ kind: "event", event: { kind: "off", why: "opened", atUs: 9 } });
    expect([off.kind, Buffer.from(off.payload).toString()]).toEqual([
      3,
      '{"atUs":9,"kind":"off","why":"opened"}',
    ]);
  });

  it("are refused when cut off anywhere, and when anything follows", () => {
    fc.assert(
      fc.property(block, fc.nat(), (written, cut) => {
        const { kind, payload } = encodeBlock(written);
        expect(() => decodeBlock({ kind, payload: payload.slice(0, cut % payload.length) })).toThrow(
          RangeError,
        );
        expect(() => decodeBlock({ kind, payload: Uint8Array.of(...payload, 1) })).toThrow(RangeError);
      }),
    );
  });

  it("never take bytes from anywhere for anything but a block or a RangeError", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 5 }), fc.uint8Array({ maxLength: 40 }), (kind, payload) => {
        try {
          expect(["samples", "raw", "event"]).toContain(decodeBlock({ kind, payload }).kind);
        } catch (error) {
          expect(error).toBeInstanceOf(RangeError);
        }
      }),
      { numRuns: 2000 },
    );
  });

  it.each([
    ["a negative time", { firstEndUs: -1, stepUs: 1, milliamps: Int32Array.of(1) }, "found -1"],
    ["a fraction of a microsecond", { firstEndUs: 1.5, stepUs: 1, milliamps: Int32Array.of(1) }, "found 1.5"],
    ["a step of zero", { firstEndUs: 1, stepUs: 0, milliamps: Int32Array.of(1) }, "found step 0"],
    ["no samples", { firstEndUs: 1, stepUs: 1, milliamps: new Int32Array() }, "and 0 samples"],
  ])("refuse %s", (_, bad, words) => {
    expect(() => encodeBlock({ kind: "samples", run: bad })).toThrow(words);
  });

  it.each([
    ["an unknown kind", 9, [1], "unknown kind 9"],
    ["an unknown window", 2, [7, 1, 1, 1, 1], "unknown window 7"],
    ["a false count", 1, [1, 1, 255, 255, 255, 255, 15, 0], "4294967295 values announced in 1 bytes"],
    ["a number without end", 1, Array(12).fill(255), "a number above"],
    ["a value beyond 32 bits", 1, [1, 1, 1, 254, 255, 255, 255, 31], "does not fit in 32 bits"],
    ["a step of zero", 1, [1, 0, 1, 1], "step 0"],
    ["an event of no kind", 3, [...Buffer.from('{"atUs":1}')], "not an event"],
    ["an event that is not JSON", 3, [1, 2], "not JSON"],
  ])("name %s in stored bytes", (_, kind, bytes, words) => {
    expect(() => decodeBlock({ kind, payload: Uint8Array.from(bytes) })).toThrow(words);
  });
});
