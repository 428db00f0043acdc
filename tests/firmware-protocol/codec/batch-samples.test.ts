import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { batchRaw, batchSamples } from "../../../firmware-protocol/codec/batch-samples.ts";
import { encodeLine } from "../../../firmware-protocol/codec/encode-line.ts";

const rms = fc.array(fc.integer({ min: 0, max: 200_000_000 }), { maxLength: 200 });
const instants = fc.array(fc.integer({ min: -400_000_000, max: 400_000_000 }), { maxLength: 200 });
const shot = fc.integer({ min: 1, max: 4_294_967_295 });

describe("batchSamples", () => {
  it("keeps every value in order, and fills lines that can be sent", () => {
    fc.assert(
      fc.property(
        shot,
        fc.nat(),
        fc.integer({ min: 1, max: 1_000_000 }),
        rms,
        (number, first, step, values) => {
          const batches = batchSamples(number, first, step, values);
          expect(batches.flatMap((batch) => batch.values)).toEqual(values);
          const lengths = batches.map((batch) => encodeLine(0xffff, batch).length);
          // Ten bytes more would have held the next value, whatever it was.
          for (const length of lengths.slice(0, -1)) expect(length).toBeGreaterThan(118);
        },
      ),
    );
  });

  it("stamps every value within half a microsecond of its step from the first", () => {
    fc.assert(
      fc.property(fc.nat(), fc.integer({ min: 1, max: 1_000_000 }), rms, (first, step, values) => {
        const stamps = batchSamples(1, first, step, values).flatMap((batch) =>
          batch.values.map((_, i) => batch.t0 + i * batch.step),
        );
        expect(stamps).toEqual(values.map((_, i) => first + i * step));
      }),
    );
  });

  it("does not add up the rounding of a step that is not whole", () => {
    const cycleUs = 1e6 / 60;
    const batches = batchSamples(1, cycleUs, cycleUs, new Array(60 * 60).fill(135_000));
    let index = 0;
    for (const { t0, step, values } of batches) {
      expect(step).toBe(16_667);
      expect(Math.abs(t0 - (index + 1) * cycleUs)).toBeLessThanOrEqual(0.5);
      index += values.length;
    }
    expect(index).toBe(3600);
  });

  it("makes no message of no values", () => {
    expect(batchSamples(1, 0, 1, [])).toEqual([]);
  });
});

describe("batchRaw", () => {
  it("keeps every value in order, stamps each batch to the nearest microsecond, and fits lines", () => {
    fc.assert(
      fc.property(
        shot,
        fc.nat(),
        fc.integer({ min: 1, max: 10_000_000 }),
        instants,
        (number, first, step, values) => {
          const batches = batchRaw(number, "opening", first, step, values);
          expect(batches.flatMap((batch) => batch.values)).toEqual(values);
          let index = 0;
          for (const batch of batches) {
            expect(Math.abs(batch.t0 - (first + (index * step) / 1000))).toBeLessThanOrEqual(0.5);
            expect(batch.window).toBe("opening");
            encodeLine(0xffff, batch);
            index += batch.values.length;
          }
        },
      ),
    );
  });
});
