import { parse } from "csv-parse/sync";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { csvText } from "../../src/exchange/csv-text.ts";
import { safeCell } from "../../src/exchange/safe-cell.ts";

describe("cells of an exported table", () => {
  it.each([
    ["=1+1", "'=1+1"],
    ["@SUM(A1)", "'@SUM(A1)"],
    ["+1", "'+1"],
    ["-1", "'-1"],
    ["\t=1", "'\t=1"],
    ["＝1", "'＝1"],
    ["'@1", "''@1"],
    ["'plain", "'plain"],
    ["plain", "plain"],
  ])("text %j is written %j", (text, written) => expect(safeCell(text)).toBe(written));

  it("numbers stand as they are, negative ones too; what is not known is empty", () => {
    expect([-5, 1e-7, true, null].map(safeCell)).toEqual(["-5", "1e-7", "true", ""]);
    expect(() => safeCell(Number.NaN)).toThrow(RangeError);
  });

  it("no text ever starts a formula, and all of it is read back", () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(fc.string(), fc.string()), { minLength: 1 }), (rows) => {
        const read: string[][] = parse(csvText({ header: ["a", "b"], rows }));
        for (const [at, row] of rows.entries())
          for (const [column, text] of row.entries()) {
            const cell = read[at + 1]?.[column] ?? "";
            expect(cell).not.toMatch(/^[=+\-@\t\r]/);
            expect(cell.replace(/^'(?='*[=+\-@\t\r\n＝＋－＠])/, "")).toBe(text);
          }
      }),
    );
  });

  it("refuses a row that is not as long as the header", () => {
    expect(() => csvText({ header: ["a"], rows: [["1", "2"]] })).toThrow("row 1 has 2 cells");
  });
});
