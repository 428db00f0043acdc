import { execFileSync } from "node:child_process";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { makeLetter } from "../../src/lab/make-letter.ts";
import { toolIsThere } from "../system/asfound.ts";
import { RecordedLab } from "./recorded-lab.ts";

const textOf = (pdf: Uint8Array): string[] =>
  execFileSync("pdftotext", ["-layout", "-", "-"], { input: pdf, encoding: "utf8" })
    .split("\f")
    .slice(0, -1)
    .map((page) => page.replace(/\s+/g, " "));

describe.runIf(toolIsThere("pdftotext"))("a letter to an owner", () => {
  const job = "9 Invented Street";
  let place: RecordedLab;
  beforeAll(() => {
    place = new RecordedLab();
    const receive = (label: string, more: object = {}) => place.receive({ label, job, ...more });
    const shot = (specimen: string, at: number, seconds: number | null) =>
      place.shot(specimen, { at, multiple: 2, loading: "pole-1", seconds });
    for (let at = 0; at < 15; at += 1)
      shot(receive(`F-${at}`, { panel: `cellar ${"x".repeat(30)}`, circuit: String(at) }), at * 200, null);
    shot(receive("P-1", { selection: "on suspicion" }), 9000, 40);
    receive("N-1");
    const both = receive("B-1", { job: "other job" });
    shot(both, 9200, 40);
    shot(both, 9400, null);
    shot(place.receive({ label: "S-1" }), 9600, 40);
  });
  afterAll(() => place.remove());

  const of = async (subject: Parameters<typeof makeLetter>[1], to: string | null = null) => {
    const { pdf } = await makeLetter(place.lab, subject, to);
    const pages = textOf(pdf);
    expect(pages).toHaveLength(1);
    return pages[0] ?? "";
  };

  it("counts each specimen once, by the gravest of its tests, and names those that did not pass as far as they fit", async () => {
    const text = await of({ job }, "Mrs Invented");
    for (const words of [
      "To Mrs Invented, about job 9 Invented Street",
      "15 did not switch off in time at a current at which they must.",
      "1 did what the test asks for.",
      "1 was not tested.",
      "F-0, 20 A, 1 pole",
      "✗ FAIL, as found: no trip in 2 min 10 s at 200 % of its rating; limit 120 s.",
      "more did not pass; the exhibit of this job lists them.",
      "Some of them were tested because they were suspected",
    ])
      expect(text).toContain(words);
    expect(await of({ job: "other job" })).toContain("1 did not switch off in time");
  });

  it("says what to do next, defers to licensed practice and the local authority, and gives the cautions", async () => {
    for (const subject of [{ job }, { specimen: "S-1" }]) {
      const found =
        "specimen" in subject
          ? { specimen: place.lab.store.records.specimenByLabel("S-1")?.specimen ?? "" }
          : subject;
      const text = await of(found);
      for (const words of [
        "licensed electrician",
        "local building or electrical authority",
        "OSHA 29 CFR 1910.331-.335, NFPA 70E",
        "no statement that the installation is safe",
        "Do not test breakers yourself",
        "The limits used are unconfirmed",
        "DEMO: invented specimens",
      ])
        expect(text).toContain(words);
    }
  });

  it("does not tell an owner of passing breakers to throw them away", async () => {
    const specimen = place.lab.store.records.specimenByLabel("S-1")?.specimen ?? "";
    const text = await of({ specimen });
    expect(text).toContain("What the test of your breaker showed");
    expect(text).not.toContain("must not be used again");
    expect(text).not.toContain("Those that did not pass");
  });

  it("is the same bytes for the same records and name", async () => {
    const [one, again, other] = await Promise.all(
      ["A", "A", "B"].map((to) => makeLetter(place.lab, { job }, to)),
    );
    expect(Buffer.compare(one?.pdf ?? Buffer.of(1), again?.pdf ?? Buffer.of(2))).toBe(0);
    expect(Buffer.compare(one?.pdf ?? Buffer.of(1), other?.pdf ?? Buffer.of(1))).not.toBe(0);
  });

  it("refuses a name that is no line, and a job that is not there", async () => {
    for (const to of ["", "  ", "a\nb", "x".repeat(121)])
      await expect(makeLetter(place.lab, { job }, to)).rejects.toThrow("to: found");
    await expect(makeLetter(place.lab, { job: "none" }, null)).rejects.toThrow("9 Invented Street");
  });
});
