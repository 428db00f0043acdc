import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { KeptLines, keptLineCount } from "../../../firmware-protocol/emulated-rig/kept-lines.ts";

function keptAfter(count: number): KeptLines {
  const kept = new KeptLines();
  for (let i = 0; i < count; i += 1) kept.keep(Uint8Array.of(i >> 16, i >> 8, i));
  return kept;
}
const numberOf = (line: Uint8Array) =>
  (line[0] as number) * 65_536 + (line[1] as number) * 256 + (line[2] as number);

describe("KeptLines", () => {
  it("counts from 0000 and comes round after FFFF", () => {
    expect([keptAfter(0).next, keptAfter(0).newest]).toEqual([0, 0xffff]);
    expect([keptAfter(65_537).next, keptAfter(65_537).newest]).toEqual([1, 0]);
  });

  it("finds exactly the newest lines, in order, and tells every other number as gone", () => {
    fc.assert(
      fc.property(
        fc.nat({ max: 70_000 }),
        fc.nat({ max: 65_535 }),
        fc.nat({ max: 300 }),
        (count, first, more) => {
          const last = (first + more) % 65_536;
          const { lines, gone } = keptAfter(count).find(first, last);
          const wanted = Array.from({ length: more + 1 }, (_, i) => (first + i) % 65_536);
          const oldest = Math.max(0, count - keptLineCount);
          const kept = wanted.flatMap((sequence) => {
            const newest = count - 1 - ((count - 1 - sequence + 131_072) % 65_536);
            return newest >= oldest && newest >= 0 ? [newest] : [];
          });
          expect(lines.map(numberOf)).toEqual(kept);
          const told = gone.flatMap((run) =>
            Array.from(
              { length: ((run.last - run.first + 65_536) % 65_536) + 1 },
              (_, i) => (run.first + i) % 65_536,
            ),
          );
          expect(told).toEqual(wanted.filter((sequence) => !kept.some((one) => one % 65_536 === sequence)));
        },
      ),
      { numRuns: 40 },
    );
  });

  it("keeps at least the 1024 lines that the wire asks for", () => {
    const { lines, gone } = keptAfter(5000).find(5000 - 1024, 4999);
    expect(lines).toHaveLength(1024);
    expect(gone).toEqual([]);
    expect(keptLineCount).toBeLessThan(32_768);
  });
});
