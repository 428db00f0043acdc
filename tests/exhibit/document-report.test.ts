import { describe, expect, it } from "vitest";
import type { ExhibitData } from "../../src/exhibit/document-data.ts";
import { documentOfExhibit } from "../../src/exhibit/document-of-exhibit.ts";
import { reportFields } from "../../src/exhibit/document-report-fields.ts";

const data: ExhibitData = {
  subject: { job: "invented job" },
  class: "summary",
  label: null,
  caseText: null,
  bates: null,
  lab: "Invented lab",
  station: "7K2M",
  publicKey: "0".repeat(64),
  demo: true,
  version: "0",
  published: false,
  head: { sequence: 2, hash: "a".repeat(64), at: "2025-01-31T08:00:00.000Z" },
  specimens: [
    {
      specimen: "7K2M-S0001",
      receivedAt: "2025-01-31T08:00:00.000Z",
      receivedSequence: 2,
      details: { label: "A-1", ratedAmps: 20, poles: 1, volts: 120, receivedOn: "2025-01-30" },
      operations: 0,
      shots: [],
    },
  ],
  handling: [],
  jobs: [],
  entries: [],
  openShots: ["7K2M-T0001"],
  limitSets: [],
  cautions: ["Qualified persons only."],
  rateCaution: "No rate.",
  figures: { timeCurrent: [], custody: new Map(), shots: new Map() },
};

describe("fields of a report", () => {
  // ISO/IEC 17025:2017, 7.8.2.1 a) to p), in our own words; read in two public mirrors of the text.
  it.each([
    ["a", "Title", true],
    ["b", "Name and address of the laboratory", false],
    ["c", "Where the tests were made", false],
    ["d", "Identification on every page, and a clear end", true],
    ["e", "Name and contact of the customer", false],
    ["f", "Method", true],
    ["g", "Description, identity and condition of the items", true],
    ["h", "Date of receipt of the items", true],
    ["i", "Dates of the tests", false],
    ["j", "Date of issue", true],
    ["k", "Sampling plan, where it matters", false],
    ["l", "That results relate only to the items tested", true],
    ["m", "Results with units", true],
    ["n", "Additions, deviations, exclusions", true],
    ["o", "Who authorised the report", false],
  ])("%s) %s is there or named as missing", (letter, field, there) => {
    const found = reportFields(data, "Title").find((one) => one.letter === letter);
    expect(found?.field).toBe(field);
    expect(found?.found !== null).toBe(there);
  });

  it("has all letters from a to p, once", () => {
    expect(
      reportFields(data, "Title")
        .map((one) => one.letter)
        .join(""),
    ).toBe("abcdefghijklmnop");
  });

  it("names a date of receipt as missing where one specimen lacks it", () => {
    const [only] = data.specimens;
    if (only === undefined) throw new Error("there is a specimen above");
    const { receivedOn: _left, ...details } = only.details;
    const more = { ...data, specimens: [only, { ...only, details }] };
    expect(reportFields(more, "Title").find((one) => one.letter === "h")?.found).toBeNull();
  });
});

describe("the document of an exhibit", () => {
  const text = JSON.stringify(documentOfExhibit(data));

  it("marks invented specimens, and says what is missing and left out", () => {
    expect(documentOfExhibit(data).demoMark).toContain("DEMO: invented specimens");
    expect(documentOfExhibit({ ...data, demo: false }).demoMark).toBeNull();
    for (const words of [
      "must be added before this is released",
      "7K2M-T0001: still open",
      "No finished test",
    ])
      expect(text).toContain(words);
  });

  it("says of what was not recorded that it was not", () => {
    expect(text).toContain('["Condition as received","not recorded"]');
  });

  it("is dated by the newest entry", () => {
    expect(documentOfExhibit(data).dated.toISOString()).toBe(data.head.at);
  });
});
