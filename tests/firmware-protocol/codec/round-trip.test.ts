import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { crc16 } from "../../../firmware-protocol/codec/crc16.ts";
import { decodeLine } from "../../../firmware-protocol/codec/decode-line.ts";
import { encodeLine } from "../../../firmware-protocol/codec/encode-line.ts";
import {
  longestLineBytes,
  type Message,
  type MessageDescription,
  messages,
} from "../../../firmware-protocol/messages.ts";
import { anyMessage, anySequence, arbitraryMessage } from "./arbitrary-message.ts";

const verbs = Object.keys(messages) as Message["verb"][];
const withoutLineFeed = (line: Uint8Array) => line.subarray(0, -1);

/** A line around any body, with the CRC that belongs to it. */
function lineAround(body: Uint8Array): Uint8Array {
  const check = crc16(body).toString(16).toUpperCase().padStart(4, "0");
  return Uint8Array.of(...body, 0x2a, ...new TextEncoder().encode(check));
}

describe("encoding and decoding", () => {
  it.each(verbs)("give back every %s as it was", (verb) => {
    fc.assert(
      fc.property(anySequence, arbitraryMessage(verb), (sequence, message) => {
        expect(decodeLine(withoutLineFeed(encodeLine(sequence, message)))).toEqual({
          ok: true,
          sequence,
          message,
        });
      }),
    );
  });

  it("make lines of printable ASCII that end in one LF and keep within 128 bytes", () => {
    fc.assert(
      fc.property(anySequence, anyMessage, (sequence, message) => {
        const line = encodeLine(sequence, message);
        expect(line.length).toBeLessThanOrEqual(longestLineBytes);
        expect(line.at(-1)).toBe(0x0a);
        expect(withoutLineFeed(line).every((byte) => byte >= 0x20 && byte <= 0x7e)).toBe(true);
      }),
    );
  });

  it.each(verbs)("leave room for the longest value of every field of %s, but for the texts", (verb) => {
    const { fields, values } = messages[verb] as MessageDescription;
    const longest = (words: readonly (string | number)[]) =>
      [...words].sort((a, b) => String(b).length - String(a).length)[0];
    const message: Record<string, unknown> = { verb };
    for (const [name, field] of Object.entries(fields)) {
      if (field.when !== undefined && message[field.when.field] !== field.when.is) continue;
      if (field.type === "integer") message[name] = longest([field.min, field.max]);
      else if (field.type === "choice") message[name] = longest(field.of);
      else message[name] = field.type === "hex" ? "F".repeat(field.digits) : "x".repeat(24);
    }
    if (values !== undefined) message.values = [longest([values.min, values.max])];
    expect(encodeLine(0xffff, message as Message).length).toBeLessThanOrEqual(longestLineBytes);
  });

  // Bodies one edit away from a true one, with the CRC that belongs to them, so that many come near to being right.
  it("agree on one form only: whatever decodes encodes to the same bytes", () => {
    const edit = fc.record({
      where: fc.nat(),
      remove: fc.nat(2),
      insert: fc.string({ unit: fc.constantFrom(..." 0129-+%AFaf=*.te"), maxLength: 2 }),
    });
    // SAMPLE has a way of its own through the decoder, so that it is looked at more closely.
    const message = fc.oneof(anyMessage, arbitraryMessage("SAMPLE"));
    let accepted = 0;
    let refused = 0;
    fc.assert(
      fc.property(anySequence, message, edit, (sequence, said, { where, remove, insert }) => {
        const body = String.fromCharCode(...encodeLine(sequence, said).slice(0, -6));
        const at = where % (body.length + 1);
        const edited = body.slice(0, at) + insert + body.slice(at + remove);
        const line = lineAround(new TextEncoder().encode(edited));
        const decoded = decodeLine(line);
        if (decoded.ok) accepted += 1;
        else refused += 1;
        if (decoded.ok)
          expect([...withoutLineFeed(encodeLine(decoded.sequence, decoded.message))]).toEqual([...line]);
      }),
      { numRuns: 3000 },
    );
    expect(accepted).toBeGreaterThan(100);
    expect(refused).toBeGreaterThan(100);
  });
});

describe("damage", () => {
  // A burst no longer than 16 bits leaves a remainder in any CRC of 16 bits (Peterson and Brown 1961, "Cyclic codes for
  // error detection", Proceedings of the IRE 49(1), theorem 5), and a changed byte is such a burst. A change that makes
  // a byte of the check another digit leaves the bytes before it with their old CRC, which then no longer matches.
  it("of any one byte in any line is refused", () => {
    fc.assert(
      fc.property(
        anySequence,
        anyMessage,
        fc.nat(),
        fc.integer({ min: 1, max: 255 }),
        (sequence, message, where, change) => {
          const line = withoutLineFeed(encodeLine(sequence, message)).slice();
          const index = where % line.length;
          line[index] = (line[index] as number) ^ change;
          expect(decodeLine(line).ok).toBe(false);
        },
      ),
      { numRuns: 2000 },
    );
  });

  it("of every single bit of one line is refused", () => {
    const line = withoutLineFeed(
      encodeLine(18, { verb: "SAMPLE", shot: 7, t0: 1_916_667, step: 16_667, values: [135_145, 135_064, 0] }),
    );
    for (let bit = 0; bit < line.length * 8; bit += 1) {
      const damaged = line.slice();
      damaged[bit >> 3] = (damaged[bit >> 3] as number) ^ (1 << (bit & 7));
      expect(decodeLine(damaged).ok).toBe(false);
    }
  });

  it("of two adjacent bytes before the check is refused", () => {
    fc.assert(
      fc.property(
        anySequence,
        anyMessage,
        fc.nat(),
        fc.integer({ min: 1, max: 65_535 }),
        (sequence, message, where, change) => {
          const line = withoutLineFeed(encodeLine(sequence, message)).slice();
          const index = where % (line.length - 6);
          line[index] = (line[index] as number) ^ (change >> 8);
          line[index + 1] = (line[index + 1] as number) ^ (change & 0xff);
          expect(decodeLine(line).ok).toBe(false);
        },
      ),
      { numRuns: 2000 },
    );
  });

  it("that takes bytes from the end is refused", () => {
    fc.assert(
      fc.property(anySequence, anyMessage, fc.nat(), (sequence, message, where) => {
        const line = withoutLineFeed(encodeLine(sequence, message));
        const decoded = decodeLine(line.subarray(0, where % line.length));
        // `*` stands nowhere but before the check, so that no shorter piece ends as a line must.
        expect(decoded.ok).toBe(false);
      }),
    );
  });
});

describe("anything at all", () => {
  it("never makes the decoder throw", () => {
    fc.assert(
      fc.property(
        fc.oneof(fc.uint8Array({ maxLength: 200 }), fc.uint8Array({ maxLength: 110 }).map(lineAround)),
        (bytes) => {
          const decoded = decodeLine(bytes);
          if (!decoded.ok) expect(decoded.detail.length).toBeGreaterThan(0);
        },
      ),
      { numRuns: 3000 },
    );
  });

  it("never makes the decoder throw where the CRC holds around ASCII", () => {
    const body = fc.string({ unit: fc.constantFrom(..."0A5F SAMPLE shot=t0step-%*"), maxLength: 100 });
    fc.assert(
      fc.property(body, (text) => {
        const decoded = decodeLine(lineAround(new TextEncoder().encode(`0000 SAMPLE ${text}`)));
        if (!decoded.ok) expect(["grammar", "unknown-message", "bad-field"]).toContain(decoded.code);
      }),
      { numRuns: 3000 },
    );
  });
});
