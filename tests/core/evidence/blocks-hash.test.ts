import { createHash } from "node:crypto";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { blocksHash } from "../../../src/core/evidence/blocks-hash.ts";

const block = fc.record({
  kind: fc.integer({ min: 1, max: 255 }),
  payload: fc.uint8Array({ maxLength: 300 }),
});

describe("blocksHash()", () => {
  it("is SHA-256 over kind, length and payload of each block, as recomputed here by hand", () => {
    fc.assert(
      fc.property(fc.array(block), (blocks) => {
        const hash = createHash("sha256");
        for (const { kind, payload } of blocks)
          hash.update(Buffer.from([kind, 0, 0, payload.length >> 8, payload.length & 255])).update(payload);
        expect(blocksHash(blocks)).toBe(hash.digest("hex"));
      }),
    );
  });

  it("tells apart the same bytes in other blocks", () => {
    const whole = blocksHash([{ kind: 1, payload: Uint8Array.of(1, 2) }]);
    const split = blocksHash([
      { kind: 1, payload: Uint8Array.of(1) },
      { kind: 1, payload: Uint8Array.of(2) },
    ]);
    expect(split).not.toBe(whole);
  });

  it("is the SHA-256 of nothing for a shot without blocks (FIPS 180-4)", () => {
    expect(blocksHash([])).toBe("e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
  });

  it("refuses a kind that is not a byte", () => {
    expect(() => blocksHash([{ kind: 256, payload: new Uint8Array() }])).toThrow(
      "block kind 256 is not a byte",
    );
  });
});
