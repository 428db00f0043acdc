import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readCsvTable } from "../../src/exchange/read-csv-table.ts";
import { csvOf, wholeRows } from "../../web/jobs/alike-rows.ts";
import { countUp } from "../../web/jobs/count-up.ts";

describe("counting up a label", () => {
  it("counts the last number, and keeps its width until it needs more", () => {
    expect(["ML-09", "ML-99", "A07b", "3", "B", "12-0009"].map(countUp)).toEqual([
      ...["ML-10", "ML-100", "A08b", "4", "B-2", "12-0010"],
    ]);
  });

  it("never gives a label that went before", () => {
    fc.assert(
      fc.property(fc.string({ minLength: 1, maxLength: 20 }), (label) => {
        const labels = [label];
        for (let at = 0; at < 30; at++) labels.push(countUp(labels.at(-1) ?? ""));
        expect(new Set(labels).size).toBe(31);
      }),
    );
  });
});

describe("rows of specimens that are alike", () => {
  it("follow the row above wherever nothing was typed", () => {
    expect(
      wholeRows([
        { label: "A-1", circuit: "3", condition: "dusty" },
        {},
        { label: "B-7", condition: "" },
        {},
      ]),
    ).toEqual([
      { label: "A-1", circuit: "3", handleAsReceived: "", condition: "dusty" },
      { label: "A-2", circuit: "4", handleAsReceived: "", condition: "dusty" },
      { label: "B-7", circuit: "5", handleAsReceived: "", condition: "" },
      { label: "B-8", circuit: "6", handleAsReceived: "", condition: "" },
    ]);
  });

  it("come back from CSV as they were written, whatever signs they hold", () => {
    const text = fc.string({ maxLength: 12 }).map((one) => one.replaceAll(/\s+/g, " ").trim());
    const line = fc.record({ label: fc.stringMatching(/^[A-Z]\d{1,3}$/), condition: text });
    fc.assert(
      fc.property(fc.array(line, { minLength: 1, maxLength: 5 }), (lines) => {
        const read = readCsvTable(csvOf(lines), ["label"], ["condition"]);
        expect(
          read.ok &&
            read.table.rows.map(({ cells }) => ({ label: cells.label, condition: cells.condition ?? "" })),
        ).toEqual(lines);
      }),
    );
  });
});
