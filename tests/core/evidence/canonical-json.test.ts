import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { canonicalJson, deepestNesting } from "../../../src/core/evidence/canonical-json.ts";
import { sha256Hex } from "../../../src/core/evidence/sha256-hex.ts";

/** The double whose IEEE 754 bits are `hex`. */
const double = (hex: string) =>
  new DataView(new BigUint64Array([BigInt(`0x${hex}`)]).buffer).getFloat64(0, true);

/** Any value of JSON, with names and texts of whole Unicode characters. */
const anyJson = fc.jsonValue({ stringUnit: "binary", maxDepth: 5 });

describe("canonicalJson()", () => {
  it("gives the example of RFC 8785, section 3.2.2 and 3.2.3", () => {
    const input = String.raw`{"numbers":[333333333.33333329,1E30,4.50,2e-3,0.000000000000000000000000001],"string":"\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/","literals":[null,true,false]}`;
    const text = canonicalJson(JSON.parse(input));
    expect(text).toBe(
      String.raw`{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\u000f\nA'B\"\\\\\"/"}`,
    );
    expect(Buffer.byteLength(text)).toBe(118);
    expect(sha256Hex(text)).toBe("2d5e01a318d0f0879ab568c4be289c8b1f64ef8921a53c6277d5e069978baacb");
  });

  it("orders names by UTF-16 code units, as in RFC 8785, section 3.2.3", () => {
    const text = canonicalJson({
      "€": "Euro Sign",
      "\r": "Carriage Return",
      "\u{fb33}": "Hebrew Letter Dalet With Dagesh",
      "1": "One",
      "\u{1f600}": "Emoji: Grinning Face",
      "\u0080": "Control",
      ö: "Latin Small Letter O With Diaeresis",
    });
    expect([...text.matchAll(/:"([^"]+)"/g)].map((match) => match[1])).toEqual([
      "Carriage Return",
      "One",
      "Control",
      "Latin Small Letter O With Diaeresis",
      "Euro Sign",
      "Emoji: Grinning Face",
      "Hebrew Letter Dalet With Dagesh",
    ]);
    // Recomputed with Python's json and hashlib from the RFC's table.
    expect(sha256Hex(text)).toBe("5e321556d22018a9656991a9e94f77ec175fa193e52a2429d312f8419ec8b08c");
  });

  // RFC 8785, appendix B.
  it.each([
    ["8000000000000000", "0"],
    ["0000000000000001", "5e-324"],
    ["8000000000000001", "-5e-324"],
    ["7fefffffffffffff", "1.7976931348623157e+308"],
    ["ffefffffffffffff", "-1.7976931348623157e+308"],
    ["4340000000000000", "9007199254740992"],
    ["c340000000000000", "-9007199254740992"],
    ["4430000000000000", "295147905179352830000"],
    ["44b52d02c7e14af6", "1e+23"],
    ["41b3de4355555553", "333333333.3333332"],
    ["becbf647612f3696", "-0.0000033333333333333333"],
    ["43143ff3c1cb0959", "1424953923781206.2"],
  ])("prints the double %s as %s", (hex, text) => {
    expect(canonicalJson(double(hex))).toBe(text);
  });

  it("puts names that look like indices in their place among the others", () => {
    expect(canonicalJson({ b: 1, "10": 2, "9": 3, a: 4, "": 5 })).toBe('{"":5,"10":2,"9":3,"a":4,"b":1}');
  });

  it("keeps a member named __proto__", () => {
    expect(canonicalJson(JSON.parse('{"a":1,"__proto__":{"b":2}}'))).toBe('{"__proto__":{"b":2},"a":1}');
  });

  it("says the same as it reads: parsing and printing again changes nothing", () => {
    fc.assert(
      fc.property(anyJson, (value) => {
        const text = canonicalJson(value);
        expect(canonicalJson(JSON.parse(text))).toBe(text);
      }),
    );
  });

  it("loses nothing: what it prints reads as the value, but for the sign of zero", () => {
    fc.assert(
      fc.property(anyJson, (value) => {
        expect(JSON.parse(canonicalJson(value))).toEqual(JSON.parse(JSON.stringify(value)));
      }),
    );
  });

  it("does not depend on the order in which members were entered", () => {
    fc.assert(
      fc.property(fc.dictionary(fc.string({ unit: "binary" }), fc.integer()), (members) => {
        const reversed = Object.fromEntries(Object.entries(members).reverse());
        expect(canonicalJson(reversed)).toBe(canonicalJson(members));
      }),
    );
  });

  const circle: { self?: unknown } = {};
  circle.self = circle;
  let deep: unknown = 0;
  for (let i = 0; i <= deepestNesting; i += 1) deep = [deep];
  it.each([
    ["NaN", { a: [Number.NaN] }, RangeError, "$.a[0] is NaN"],
    ["infinity", -Infinity, RangeError, "$ is -Infinity"],
    ["undefined in an object", { a: undefined }, TypeError, "$.a is undefined"],
    ["undefined in an array", [undefined], TypeError, "$[0] is undefined"],
    ["a hole in an array", new Array(2), TypeError, "$[0] is undefined"],
    ["a bigint", 1n, TypeError, "$ is bigint"],
    ["a function", () => 1, TypeError, "$ is function"],
    ["a symbol", Symbol("a"), TypeError, "$ is symbol"],
    ["a date", { at: new Date(0) }, TypeError, "$.at is a Date"],
    ["a map", new Map(), TypeError, "$ is a Map"],
    ["bytes", new Uint8Array(1), TypeError, "$ is a Uint8Array"],
    ["a name that is a symbol", { [Symbol("a")]: 1 }, TypeError, "a symbol for a name"],
    ["a lone high surrogate", "\ud800", TypeError, "lone surrogate"],
    ["a lone low surrogate", { a: "x\udc00y" }, TypeError, "$.a has text with a lone surrogate"],
    ["a lone surrogate in a name", { "\ud800": 1 }, TypeError, "lone surrogate"],
    ["a circle", circle, TypeError, "$.self contains itself"],
    ["endless depth", deep, RangeError, "nested more than 200 deep"],
  ])("refuses %s", (_, value, kind, words) => {
    expect(() => canonicalJson(value)).toThrow(kind);
    expect(() => canonicalJson(value)).toThrow(words);
  });

  it("accepts the same object twice where it does not contain itself", () => {
    const shared = { a: 1 };
    expect(canonicalJson([shared, shared])).toBe('[{"a":1},{"a":1}]');
  });
});
