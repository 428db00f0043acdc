import { describe, expect, it } from "vitest";
import { encodeLine } from "../../../firmware-protocol/codec/encode-line.ts";
import type { Message } from "../../../firmware-protocol/messages.ts";

const text = (line: Uint8Array) => String.fromCharCode(...line);

describe("encodeLine", () => {
  it("writes the fields in the order of the description, whatever the order in which they are given", () => {
    const line = encodeLine(0xbeef, { last: "0002", first: "0001", verb: "AGAIN" });
    expect(text(line)).toMatch(/^BEEF AGAIN first=0001 last=0002\*[0-9A-F]{4}\n$/);
  });

  it("leaves out an optional field that is absent or undefined", () => {
    const refused = { verb: "REFUSED", to: "0001", code: "not-safe" } as const;
    const absent = text(encodeLine(1, refused));
    expect(absent).toMatch(/^0001 REFUSED to=0001 code=not-safe\*/);
    expect(text(encodeLine(1, { ...refused, detail: undefined } as unknown as Message))).toBe(absent);
  });

  it("escapes what a text may not hold, and nothing else", () => {
    const line = encodeLine(0, { verb: "IDENT", item: "model", value: "a b=c*d%e~!\u00e9\n\u{1f600}" });
    expect(text(line)).toContain("value=a%20b%3Dc%2Ad%25e~!%C3%A9%0A%F0%9F%98%80*");
  });

  const done = { verb: "DONE", shot: 1 } as const;
  it.each([
    ["sequence", -1, done],
    ["sequence", 65_536, done],
    ["sequence", 1.5, done],
    ["shot must be an integer from 1 to 4294967295, found 0", 0, { verb: "DONE", shot: 0 }],
    ["found 1.5", 0, { verb: "DONE", shot: 1.5 }],
    ["found NaN", 0, { verb: "DONE", shot: Number.NaN }],
    ["found Infinity", 0, { verb: "DONE", shot: Number.POSITIVE_INFINITY }],
    ["token must be 8 digits 0-9 A-F", 0, { verb: "FIRE", token: "0000000a" }],
    ["item must be one of protocol", 0, { verb: "IDENT", item: "colour", value: "x" }],
    ["half of a surrogate pair", 0, { verb: "IDENT", item: "model", value: "\ud800" }],
    ["takes 129 bytes", 0, { verb: "IDENT", item: "model", value: "x".repeat(95) }],
    [
      "value must be an integer from 0 to 200000000",
      0,
      { verb: "SAMPLE", shot: 1, t0: 0, step: 1, values: [1, -1] },
    ],
  ])("throws RangeError: %s", (words, sequence, message) => {
    expect(() => encodeLine(sequence, message as Message)).toThrow(RangeError);
    expect(() => encodeLine(sequence, message as Message)).toThrow(words);
  });

  it.each([
    ['no message "SING"', { verb: "SING" }],
    ['no message "constructor"', { verb: "constructor" }],
    ["needs shot", { verb: "DONE" }],
    ["shot must be a number", { verb: "DONE", shot: "1" }],
    ["token must be a string", { verb: "FIRE", token: 1 }],
    ["no field colour", { verb: "BEAT", colour: "red" }],
    ["at least one value", { verb: "SAMPLE", shot: 1, t0: 0, step: 1, values: [] }],
    ["at least one value", { verb: "SAMPLE", shot: 1, t0: 0, step: 1 }],
    ["needs why", { verb: "EVENT", shot: 1, at: 0, kind: "off" }],
    ["no place for why", { verb: "EVENT", shot: 1, at: 0, kind: "onset", why: "opened" }],
  ])("throws TypeError: %s", (words, message) => {
    expect(() => encodeLine(0, message as unknown as Message)).toThrow(TypeError);
    expect(() => encodeLine(0, message as unknown as Message)).toThrow(words);
  });
});
