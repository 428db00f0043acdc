import { createHash } from "node:crypto";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { stationId } from "../../../src/core/evidence/station-id.ts";

describe("stationId()", () => {
  it("is the first 20 bits of the key's SHA-256 in Crockford's base 32", () => {
    fc.assert(
      fc.property(fc.uint8Array({ minLength: 32, maxLength: 32 }), (key) => {
        const id = stationId(Buffer.from(key).toString("hex"));
        expect(id).toMatch(/^[0-9A-HJKMNP-TV-Z]{4}$/);
        const digits = [...id].map((c) => "0123456789ABCDEFGHJKMNPQRSTVWXYZ".indexOf(c));
        const bits = digits.reduce((sum, digit) => sum * 32 + digit, 0);
        const digest = createHash("sha256").update(key).digest();
        expect(bits).toBe(Math.floor(digest.readUIntBE(0, 3) / 16));
      }),
    );
  });

  it("refuses what is not a key", () => {
    expect(() => stationId("abc")).toThrow("64 lower-case hex digits, found abc");
  });
});
