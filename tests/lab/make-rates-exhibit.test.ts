import { execFileSync } from "node:child_process";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { importStudies } from "../../src/lab/import-studies.ts";
import { makeRatesExhibit } from "../../src/lab/make-rates-exhibit.ts";
import { readRateQuestion } from "../../src/lab/rates-question.ts";
import { toolIsThere } from "../system/asfound.ts";
import { RecordedLab } from "./recorded-lab.ts";

const textOf = (pdf: Uint8Array): string =>
  execFileSync("pdftotext", ["-layout", "-", "-"], { input: pdf, encoding: "utf8" })
    .replace(/\s+/g, " ")
    .replace(/(\d)%/g, "$1 %");

const header = "study,year,stratum,criterion,multiple,tested,failed,selection,citation";

describe.runIf(toolIsThere("pdftotext"))("an exhibit of failure rates", () => {
  let place: RecordedLab;
  beforeAll(() => {
    place = new RecordedLab();
    // 3 of 10 of one pole fail, none of 2 of two poles; one is never tested.
    for (let at = 0; at < 12; at += 1) {
      const specimen = place.receive({ label: `K-${at}`, poles: at < 10 ? 1 : 2 });
      place.shot(specimen, { at: at * 200, multiple: 2, loading: "pole-1", seconds: at < 3 ? null : 40 });
    }
    place.receive({ label: "K-untested" });
  });
  afterAll(() => place.remove());
  const question = readRateQuestion({ by: "poles", point: "2", clusters: "none" });
  const make = (more: object = {}) => makeRatesExhibit(place.lab, question, more);

  it("states criterion, counts, exact bounds, who is in and out, and what a rate does not say", async () => {
    const exhibit = await make({ label: "Exhibit R", caseText: "A v. B" });
    const text = textOf(exhibit.pdf);
    for (const words of [
      "Failure: no trip within the limit at that multiple, at 200 % of rated current",
      // Clopper-Pearson for 3 of 10: 0.0667 to 0.652 (Brown, Cai and DasGupta 2001 give the formula; R binom.test the figures).
      "3 of 10 30 % 6.67 % to 65.2 %",
      "0 of 2 0 % 0 % to 84.2 %",
      "3 of 12 25 %",
      "no sample of the installed base",
      "K-untested",
      "not counted no closed shot",
      "No study is on record",
      "Exhibit R · A v. B",
      "DEMO",
      "End of exhibit.",
    ])
      expect(text).toContain(words);
    expect(exhibit.figures.map(({ name }) => name)).toEqual(["rates"]);
    expect(exhibit.tables[0]?.rows).toHaveLength(13);
  });

  it("is the same bytes whenever it is made, and refuses texts that are no line", async () => {
    place.setClock(0);
    const [one, again] = [await make(), await make()];
    expect(Buffer.compare(one.pdf, again.pdf)).toBe(0);
    await expect(make({ label: "x".repeat(81) })).rejects.toThrow("accepted is one line");
  });

  it("sets the lab's rate beside studies of one criterion, and says why those of several are not pooled", async () => {
    importStudies(
      place.lab,
      `${header}\nInvented A,1999,all,no trip in 2 min,2,100,7,at random,A\nInvented B,2005,all,no trip in 2 min,2,250,11,at random,B\n`,
      "s.csv",
    );
    const first = await make();
    expect(first.figures.map(({ name }) => name)).toEqual(["rates", "forest"]);
    const text = textOf(first.pdf);
    for (const words of ["Invented A 1999", "7 of 100", "3 of 12", "† counted by another criterion"])
      expect(text).toContain(words);
    place.setClock(400 * 86_400);
    expect(Buffer.compare(first.pdf, (await make()).pdf)).toBe(0);
    importStudies(place.lab, `${header}\nInvented C,2011,all,any fault,2,50,9,unknown,C\n`, "t.csv");
    const mixed = await make();
    expect(mixed.figures.map(({ name }) => name)).toEqual(["rates"]);
    expect(textOf(mixed.pdf)).toMatch(/3 studies are on record and are not pooled here: .*any fault/);
    expect((await make({ mixedCriteria: true })).figures).toHaveLength(2);
  });

  it("says of a rate without a decided specimen that it is not estimable", async () => {
    const none = readRateQuestion({ point: "5" });
    const exhibit = await makeRatesExhibit(place.lab, none);
    expect(textOf(exhibit.pdf)).toContain("Not estimable: no specimen was decided");
    expect(exhibit.figures).toHaveLength(0);
  });
});
