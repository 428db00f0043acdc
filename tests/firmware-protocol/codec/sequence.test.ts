import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { nextSequence, sequenceDistance } from "../../../firmware-protocol/codec/sequence.ts";
import { anySequence } from "./arbitrary-message.ts";

describe("sequence numbers", () => {
  it("follow one another and begin again after FFFF", () => {
    expect(nextSequence(0)).toBe(1);
    expect(nextSequence(0xffff)).toBe(0);
  });

  it("are one apart from the next, and none from themselves", () => {
    fc.assert(
      fc.property(
        anySequence,
        (n) => sequenceDistance(n, nextSequence(n)) === 1 && sequenceDistance(n, n) === 0,
      ),
    );
  });

  it("are as far apart there and back as the whole circle", () => {
    fc.assert(
      fc.property(anySequence, anySequence, (a, b) => {
        expect((sequenceDistance(a, b) + sequenceDistance(b, a)) % 65_536).toBe(0);
      }),
    );
  });
});
