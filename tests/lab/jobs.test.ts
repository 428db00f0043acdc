import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { jobView, jobViews, openJob } from "../../src/lab/jobs.ts";
import { receiveSpecimen } from "../../src/lab/receive-specimen.ts";
import { measuringLab, specimen } from "./measuring-lab.ts";

let place: ReturnType<typeof measuringLab>;
beforeEach(() => {
  place = measuringLab();
});
afterEach(() => place.remove());

const job = { job: "Mill Lane", site: "Mill Lane 3 (invented)", on: "2026-06-01", by: "N. N." };
const open = (more: object = {}) => openJob(place.lab, { ...job, ...more }, "job.json");

describe("a job", () => {
  it("shows the specimens that name it, received before or after it was opened", () => {
    receiveSpecimen(place.lab, { ...specimen, label: "B-1", job: "Mill Lane", panel: "P1", circuit: "3" });
    expect(jobView(place.lab, "Mill Lane")).toMatchObject({ opened: null, specimens: [{ label: "B-1" }] });
    expect(jobView(place.lab, "Mill Lane").remarks[0]).toContain("was never opened");
    open({ panels: ["P1"], authority: "owner", removedBy: "A. B.", clientReference: "R-7" });
    receiveSpecimen(place.lab, { ...specimen, label: "B-2", job: "Mill Lane", panel: "P2" });
    receiveSpecimen(place.lab, { ...specimen, label: "C-1", job: "other" });
    const view = jobView(place.lab, "Mill Lane");
    expect(view.opened).toMatchObject({ by: "N. N.", details: { authority: "owner", circumstances: "" } });
    expect(view.specimens.map((one) => [one.label, one.panel, one.circuit])).toEqual([
      ["B-1", "P1", "3"],
      ["B-2", "P2", null],
    ]);
    expect(view.remarks).toEqual(['Specimen B-2 is of panel "P2", which the job does not name.']);
    expect(jobViews(place.lab).map((one) => [one.job, one.opened === null])).toEqual([
      ["Mill Lane", false],
      ["other", true],
    ]);
  });

  it.each<[string, object, string]>([
    ["a name with a path", { job: "a/b" }, "job must match pattern"],
    ["a name that is a folder", { job: ".." }, "job must match pattern"],
    ["a name of blanks", { job: "  " }, "job must match pattern"],
    ["a panel with a path", { panels: ["..\\x"] }, "panels.0 must match pattern"],
    ["a panel twice", { panels: ["P", "P"] }, 'panels: "P" is named twice'],
    ["no site", { site: undefined }, "site must be string"],
    ["a day that does not exist", { on: "2026-02-30" }, "there is no day 2026-02-30"],
    ["a day ahead", { on: "2026-07-01" }, "2026-07-01 lies ahead"],
    ["a huge text", { circumstances: "x".repeat(4001) }, "circumstances must not have more than 4000"],
    ["a field that is not known", { colour: 1 }, "colour is not known here"],
    ["nobody", { by: "" }, "by must"],
  ])("with %s is refused and nothing is stored", (_, more, words) => {
    const { sequence } = place.lab.store.ledger.head();
    expect(() => open(more)).toThrow(words);
    expect(place.lab.store.ledger.head().sequence).toBe(sequence);
  });

  it("is opened once", () => {
    open();
    expect(() => open({ site: "elsewhere" })).toThrow("was opened by entry 2; amend that entry");
    expect(() => jobView(place.lab, "none")).toThrow('no job "none"');
  });
});
