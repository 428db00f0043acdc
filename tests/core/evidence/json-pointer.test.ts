import { describe, expect, it } from "vitest";
import { pointerSteps, valueAt, withValueAt } from "../../../src/core/evidence/json-pointer.ts";

/** The example document of RFC 6901 (2013), section 5. */
const document = {
  foo: ["bar", "baz"],
  "": 0,
  "a/b": 1,
  "c%d": 2,
  "e^f": 3,
  "g|h": 4,
  "i\\j": 5,
  'k"l': 6,
  " ": 7,
  "m~n": 8,
};

describe("JSON pointers", () => {
  it.each<[string, unknown]>([
    ["/foo", ["bar", "baz"]],
    ["/foo/0", "bar"],
    ["/", 0],
    ["/a~1b", 1],
    ["/c%d", 2],
    ["/e^f", 3],
    ["/g|h", 4],
    ["/i\\j", 5],
    ['/k"l', 6],
    ["/ ", 7],
    ["/m~0n", 8],
  ])("%s is read as RFC 6901, section 5, says, and replaced there alone", (pointer, value) => {
    const steps = pointerSteps(pointer);
    expect(valueAt(document, steps)).toEqual({ there: true, value });
    const changed = withValueAt(document, steps, { there: true, value: "new" });
    expect(valueAt(changed, steps)).toEqual({ there: true, value: "new" });
    expect(withValueAt(changed, steps, { there: true, value })).toEqual(document);
    expect(Object.keys(changed as object).sort()).toEqual(Object.keys(document).sort());
  });

  it("~01 is ~1 and not / (section 4)", () => {
    expect(pointerSteps("/~01")).toEqual(["~1"]);
  });

  it.each(["", "foo", "/a~2", "/a~", "#/foo"])("%j is refused", (pointer) => {
    expect(() => pointerSteps(pointer)).toThrow("accepted is a JSON pointer");
  });

  it.each(["/foo/2", "/foo/01", "/foo/-", "/foo/length", "/none", "/toString", "/__proto__", "/foo/0/x"])(
    "%s is not there",
    (pointer) => {
      expect(valueAt(document, pointerSteps(pointer))).toEqual({ there: false });
    },
  );

  it("adds and takes away a field and the end of a list; nothing in the middle, nothing on the way", () => {
    const set = (pointer: string, value: unknown) =>
      withValueAt({ a: [1, 2] }, pointerSteps(pointer), { there: true, value });
    const remove = (pointer: string) => withValueAt({ a: [1, 2] }, pointerSteps(pointer), { there: false });
    expect(set("/b", 1)).toEqual({ a: [1, 2], b: 1 });
    expect(set("/a/2", 3)).toEqual({ a: [1, 2, 3] });
    expect(remove("/a/1")).toEqual({ a: [1] });
    expect(remove("/a")).toEqual({});
    expect(() => remove("/a/0")).toThrow("no item 0");
    expect(() => set("/a/9", 3)).toThrow("no item 9 in a list of 2");
    expect(() => set("/b/c", 3)).toThrow('no field "b"');
    expect(() => set("/a/0/c", 3)).toThrow('nothing below "c"');
    const harmless = set("/__proto__", { polluted: true });
    expect(({} as { polluted?: boolean }).polluted).toBeUndefined();
    expect(Object.keys(harmless as object)).toEqual(["a", "__proto__"]);
  });
});
