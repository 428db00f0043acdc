import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { crc16 } from "../../../firmware-protocol/codec/crc16.ts";

const ascii = (text: string) => Uint8Array.from(text, (character) => character.charCodeAt(0));

/** The definition: one bit at a time, polynomial 0x1021, start 0xFFFF, highest bit first. */
function bitByBit(bytes: Uint8Array): number {
  let crc = 0xffff;
  for (const byte of bytes)
    for (let bit = 7; bit >= 0; bit -= 1) {
      const out = (crc >> 15) ^ ((byte >> bit) & 1);
      crc = ((crc << 1) & 0xffff) ^ (out === 1 ? 0x1021 : 0);
    }
  return crc;
}

describe("crc16", () => {
  // Check value of CRC-16/IBM-3740 (alias CCITT-FALSE) in the Catalogue of parametrised CRC algorithms (G. Cook).
  it("gives the published check value 29B1 for 123456789", () => {
    expect(crc16(ascii("123456789"))).toBe(0x29b1);
  });

  it.each([
    ["", 0xffff],
    ["A", 0xb915],
  ])("gives the known value for %j", (text, crc) => {
    expect(crc16(ascii(text))).toBe(crc);
  });

  it("equals the bit-by-bit definition, whatever the bytes and their number", () => {
    fc.assert(fc.property(fc.uint8Array({ maxLength: 300 }), (bytes) => crc16(bytes) === bitByBit(bytes)));
  });

  it("of a part equals that of the part alone", () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 60 }), fc.nat(60), fc.nat(60), (bytes, a, b) => {
        const start = Math.min(a, b, bytes.length);
        const end = Math.min(Math.max(a, b), bytes.length);
        expect(crc16(bytes, start, end)).toBe(crc16(bytes.slice(start, end)));
      }),
    );
  });

  it("leaves no remainder when its own value follows the bytes", () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 200 }), (bytes) => {
        const crc = crc16(bytes);
        expect(crc16(Uint8Array.of(...bytes, crc >> 8, crc & 0xff))).toBe(0);
      }),
    );
  });

  it.each([
    [-1, 2],
    [2, 1],
    [0, 4],
    [Number.NaN, 2],
  ])("refuses a part from %d to %d of three bytes", (start, end) => {
    expect(() => crc16(new Uint8Array(3), start, end)).toThrow(RangeError);
  });
});
