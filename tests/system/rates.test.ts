import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { openLab, specimenWith } from "../lab/rates-lab.ts";
import { asfound, workplace } from "./asfound.ts";

let place: ReturnType<typeof workplace>;
let studies: string;
beforeEach(() => {
  place = workplace();
  studies = join(place.folder, "studies.csv");
  writeFileSync(
    studies,
    `study,year,stratum,criterion,multiple,tested,failed,selection,citation,rob_sampling
A,1981,all,no trip within the limit,2,120,30,all of a panel,invented for a test,low
B,1990,all,no trip within the limit,2,60,9,on suspicion,invented for a test,high
C,1999,all,no trip within the limit,2,33,0,at random,invented for a test,unclear
`,
  );
  const store = openLab(place.data);
  for (const [label, ending] of [
    ["A", "pass"],
    ["B", "never"],
    ["C", "undetermined"],
  ] as const)
    specimenWith(store, label, [ending], { poles: label === "A" ? 2 : 1, job: "J", panel: "P" });
  store.close();
});
afterEach(() => place.remove());

describe("rates from the command line", () => {
  it("prints criterion and rows as one document, as a table and as CSV", async () => {
    const run = await asfound(["rates", "--data", place.data, "--by", "poles", "--point", "2", "--json"]);
    expect(run.code).toBe(0);
    expect(run.document.criterion).toContain("200 %");
    expect(run.document.rows).toMatchObject([
      {
        stratum: { poles: "1 pole" },
        k: 1,
        n: 1,
        estimate: 1,
        undetermined: 1,
        excluded: 0,
        lowest: 0.5,
        highest: 1,
      },
      { stratum: { poles: "2 poles" }, k: 0, n: 1, estimate: 0, undetermined: 0, excluded: 0, clusters: 1 },
    ]);
    const csv = await asfound(["rates", "--data", place.data, "--by", "poles", "--csv"]);
    expect(csv.stdout.split("\r\n")[0]).toContain("poles,failed,decided,estimate");
    expect((await asfound(["rates", "--data", place.data])).stdout).toContain("suspicion");
  });

  it("refuses an unknown attribute, naming those there are", async () => {
    const run = await asfound(["rates", "--data", place.data, "--by", "colour", "--json"]);
    expect(run.code).toBe(2);
    expect(run.document.error).toContain("makeCode");
  });
});

describe("studies from the command line", () => {
  it("are imported once, listed, pooled with the lab's own, and drawn", async () => {
    const imported = await asfound(["studies", "import", studies, "--data", place.data, "--json"]);
    expect(imported.code).toBe(0);
    expect(imported.document.studies).toHaveLength(3);
    const again = await asfound(["studies", "import", studies, "--data", place.data, "--json"]);
    expect(again.code).toBe(2);
    expect(again.document.error).toContain("recorded already");
    const listed = await asfound(["studies", "list", "--data", place.data, "--json"]);
    expect(listed.document.studies).toHaveLength(3);
    const figure = join(place.folder, "forest.svg");
    const pooled = await asfound(["pool", "--data", place.data, "--with-lab", "--figure", figure, "--json"]);
    expect(pooled.code).toBe(0);
    expect(pooled.document.rows).toHaveLength(4);
    expect(pooled.document.rows[3]).toMatchObject({ marked: true, k: 1, n: 2 });
    expect(readFileSync(figure, "utf8")).toContain("<svg");
    expect((await asfound(["verify", "--data", place.data, "--json"])).document).toMatchObject({ ok: true });
  });

  it("are pooled straight from a file", async () => {
    const run = await asfound(["pool", "--studies", studies, "--model", "beta-binomial", "--json"]);
    expect(run.code).toBe(0);
    expect(run.document.pooled.lower).toBeLessThan(run.document.pooled.estimate);
    expect((await asfound(["pool", "--json"])).code).toBe(2);
  });
});
