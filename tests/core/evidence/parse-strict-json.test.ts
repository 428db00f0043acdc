import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { parseStrictJson } from "../../../src/core/evidence/parse-strict-json.ts";

describe("parseStrictJson()", () => {
  it("reads what JSON.parse reads, where there is one reading only", () => {
    fc.assert(
      fc.property(fc.jsonValue({ stringUnit: "binary" }), fc.constantFrom(0, 1, 3), (value, indent) => {
        const text = JSON.stringify(value, null, indent);
        expect(parseStrictJson(text)).toEqual({ ok: true, value: JSON.parse(text) });
      }),
    );
  });

  it.each([
    ["a name twice", '{"a":1,"b":{"a":2},"a":3}', 'the name "a" appears twice'],
    ["a name twice, spelled differently", String.raw`{"a":1,"\u0061":2}`, "appears twice"],
    ["a name twice, deep inside", '[[{"x":[{"k":1,"k":1}]}]]', 'the name "k" appears twice'],
    ["a name twice after an object", '{"a":{},"a":[]}', 'the name "a" appears twice'],
    ["a number beyond a double", "[1e400]", "1e400 is too large"],
    ["a lone surrogate", String.raw`"\ud800"`, "lone surrogate"],
    ["a lone surrogate in a name", String.raw`{"\udfff":1}`, "lone surrogate"],
    ["endless depth", "[".repeat(100_000) + "]".repeat(100_000), "nested more than 200 deep"],
    ["what is not JSON", "{a:1}", "not JSON"],
    ["an empty text", "", "not JSON"],
    ["two values", "1 2", "not JSON"],
  ])("refuses %s", (_, text, words) => {
    expect(parseStrictJson(text)).toEqual({ ok: false, problem: expect.stringContaining(words) });
  });

  it.each([
    '{"a":"a","b":"a"}',
    '{"a":{"a":1}}',
    '[{"a":1},{"a":1}]',
    String.raw`{"q\"":1,"q\\":"{\"q\":1,\"q\":2}"}`,
    '{"n":-1.5E+3,"e":"1e999"}',
  ])("accepts %s", (text) => {
    expect(parseStrictJson(text)).toEqual({ ok: true, value: JSON.parse(text) });
  });
});
