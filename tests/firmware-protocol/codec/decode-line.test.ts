import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { crc16 } from "../../../firmware-protocol/codec/crc16.ts";
import { decodeLine } from "../../../firmware-protocol/codec/decode-line.ts";
import { encodeLine } from "../../../firmware-protocol/codec/encode-line.ts";
import { anyMessage } from "./arbitrary-message.ts";

const bytesOf = (text: string) => Uint8Array.from(text, (character) => character.charCodeAt(0));
/** A line with the CRC that belongs to its body. */
const sound = (body: string) =>
  bytesOf(`${body}*${crc16(bytesOf(body)).toString(16).toUpperCase().padStart(4, "0")}`);

const sample = "0007 SAMPLE shot=1 t0=5 step=1";

describe("decodeLine refuses", () => {
  it.each([
    ["too-long", `${"x".repeat(127)}\n`],
    ["not-ascii", "0001 BEAT\t*1234"],
    ["not-ascii", "0001 BEAT*58CD\r"],
    ["no-check", ""],
    ["no-check", "*"],
    ["no-check", "0001 BEAT"],
    ["no-check", "0001 BEAT*58cd"],
    ["no-check", "0001 BEAT*58C"],
    ["frame-crc", "0001 BEAT*0000"],
  ] as const)("%s, and believes no number: %j", (code, text) => {
    expect(decodeLine(bytesOf(text))).toMatchObject({ ok: false, code, sequence: null });
  });

  it.each([
    ["grammar", "0001 ", 1],
    ["grammar", "0001  BEAT", 1],
    ["grammar", "0001 BEAT ", 1],
    ["grammar", "0001 Beat", 1],
    ["grammar", "0001 BEAT BEAT", 1],
    ["grammar", "0001 BEAT shot", 1],
    ["grammar", "0001 BEAT =1", 1],
    ["grammar", "0001 BEAT shot=%4", 1],
    ["grammar", "0001 BEAT shot=%zz", 1],
    ["grammar", "0001 BEAT shot=1=2", 1],
    ["grammar", "0001 BEAT shot=1*2", 1],
    ["grammar", `${sample} 1 shot=1`, 7],
    ["grammar", `${sample} 1.5`, 7],
    ["bad-field", `${sample}-1`, 7],
    ["bad-field", `${sample}%20 1`, 7],
    ["grammar", "0007 SAMPLE shot=1 t0=5-step=1 1", 7],
    ["grammar", `${sample} +1`, 7],
    ["unknown-message", "0001 SING", 1],
    ["unknown-message", "0001 BEATS", 1],
    ["unknown-message", "0001 BEA", 1],
    ["unknown-message", "0001 SING shot=1 1 2", 1],
    ["bad-field", "0001 BEAT shot=1", 1],
    ["bad-field", "0001 BEAT 1", 1],
    ["bad-field", "0001 DONE", 1],
    ["bad-field", "0001 DONE shot=", 1],
    ["bad-field", "0001 DONE shot=0", 1],
    ["bad-field", "0001 DONE shot=4294967296", 1],
    ["bad-field", "0001 DONE shot=01", 1],
    ["bad-field", "0001 DONE shot=-1", 1],
    ["bad-field", "0001 DONE shot=1 shot=1", 1],
    ["bad-field", "0001 DONE shot=1 more=1", 1],
    ["bad-field", "0001 AGAIN last=0002 first=0001", 1],
    ["bad-field", "0001 AGAIN first=001 last=0001", 1],
    ["bad-field", "0001 AGAIN first=000a last=0001", 1],
    ["bad-field", "0001 EVENT shot=1 at=1 kind=closing", 1],
    ["bad-field", "0001 EVENT shot=1 at=1 kind=onset why=opened", 1],
    ["bad-field", "0001 EVENT shot=1 at=1 kind=onset pole=1", 1],
    ["bad-field", "0001 EVENT shot=1 at=1 kind=off", 1],
    ["bad-field", "0001 EVENT shot=1 at=9007199254740992 kind=onset", 1],
    ["bad-field", "0001 IDENT item=model value=%41", 1],
    ["bad-field", "0001 IDENT item=model value=%C3", 1],
    ["bad-field", sample, 7],
    ["bad-field", `${sample} -1`, 7],
    ["bad-field", `${sample} 01`, 7],
    ["bad-field", `${sample} -0`, 7],
    ["bad-field", `${sample} 200000001`, 7],
    ["bad-field", `${sample} 12345678901234567890`, 7],
    ["bad-field", `${sample} 4294967297`, 7],
  ] as const)("%s, with the number of a line whose CRC holds: %j", (code, body, sequence) => {
    expect(decodeLine(sound(body))).toMatchObject({ ok: false, code, sequence });
  });

  it.each(["00a1 BEAT", "1 BEAT", "00001 BEAT", "", " BEAT", "0001"])(
    "a line whose number cannot be read, without a number: %j",
    (body) => {
      expect(decodeLine(sound(body))).toMatchObject({ ok: false, code: "grammar", sequence: null });
    },
  );

  it("a byte outside ASCII even where the CRC holds", () => {
    expect(decodeLine(sound("0001 IDENT item=model value=\u00e9"))).toMatchObject({
      code: "not-ascii",
      sequence: null,
    });
  });

  it("in words that name what was found and what is accepted", () => {
    const decoded = decodeLine(sound("0001 DONE shot=0"));
    expect(decoded.ok ? "" : decoded.detail).toBe(
      'DONE shot: found "0", accepted: an integer from 1 to 4294967295 without leading zeros',
    );
  });
});

describe("decodeLine", () => {
  it("takes the smallest and the largest numbers of each kind", () => {
    expect(decodeLine(sound(`${sample} 0 200000000`))).toMatchObject({
      ok: true,
      message: { values: [0, 200_000_000] },
    });
    expect(decodeLine(sound("0001 EVENT shot=4294967295 at=9007199254740991 kind=onset"))).toMatchObject({
      ok: true,
      message: { shot: 4_294_967_295, at: 9_007_199_254_740_991 },
    });
    expect(
      decodeLine(sound("0001 RAW shot=1 window=onset t0=0 step=100000 -400000000 0 400000000")),
    ).toMatchObject({ ok: true, message: { values: [-400_000_000, 0, 400_000_000] } });
  });

  it("reads a line of exactly 128 bytes with LF, and refuses one of 129", () => {
    const longest = sound(`0001 IDENT item=model value=${"x".repeat(94)}`);
    expect(longest.length).toBe(127);
    expect(decodeLine(longest).ok).toBe(true);
    expect(decodeLine(sound(`0001 IDENT item=model value=${"x".repeat(95)}`))).toMatchObject({
      code: "too-long",
    });
  });

  it("reads a line out of the middle of other bytes as if it stood alone", () => {
    fc.assert(
      fc.property(anyMessage, fc.uint8Array({ maxLength: 20 }), fc.nat(255), (message, around, damage) => {
        const line = encodeLine(3, message).slice(0, -1);
        line[4] = (line[4] as number) ^ (damage % 4 === 0 ? 1 : 0);
        const bytes = Uint8Array.of(...around, ...line, ...around);
        const there = decodeLine(bytes, around.length, around.length + line.length);
        expect(there).toEqual(decodeLine(line));
      }),
    );
  });

  it("throws for a start and a stop that are no part of the bytes", () => {
    expect(() => decodeLine(new Uint8Array(3), 2, 1)).toThrow("0 <= start <= stop <= 3, found 2, 1");
    expect(() => decodeLine(new Uint8Array(3), 0, 4)).toThrow(RangeError);
    expect(() => decodeLine(new Uint8Array(3), -1)).toThrow(RangeError);
  });
});
