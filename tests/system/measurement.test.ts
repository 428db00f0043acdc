import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { asfound, workplace } from "./asfound.ts";

let place: ReturnType<typeof workplace>;
beforeEach(() => {
  place = workplace({ label: "A-1", ratedAmps: 20, poles: 1, volts: 120, makeCode: "MK", typeCode: "T1" });
});
afterEach(() => place.remove());

const on = (command: readonly string[], more: readonly string[] = []) =>
  asfound([...command, "--data", place.data, "--json", ...more]);
const shoot = (breaker: string, more: readonly string[] = []) =>
  on(
    ["shoot", "--specimen", place.specimenFile, "--point", "2"],
    [...["--link", `emulated?breaker=${breaker}&speed=5000&seed=3`], ...more],
  );
const file = (name: string, text: string) => {
  writeFileSync(join(place.folder, name), text);
  return join(place.folder, name);
};

describe("from the command line", () => {
  it("a confirmed row and a non-binary rule reach the record", async () => {
    const confirmed = await on(
      ["confirm", "--set", "ul-489-calibration", "--rows", "200-to-30"],
      [...["--document", "UL 489", "--edition", "invented", "--by", "N. N.", "--on", "2025-01-02"]],
    );
    expect(confirmed.document).toMatchObject({ rows: ["200-to-30"], on: "2025-01-02" });
    const limits = await on(["limits", "--set", "ul-489-calibration"]);
    expect(limits.document.confirmations[0]).toMatchObject({
      confirmed: false,
      confirmedRows: ["200-to-30"],
    });

    const { document } = await shoot("sound", ["--rule", "nonbinary", "--r", "1"]);
    expect(document.verdict).toMatchObject({
      result: "pass",
      statement: "Pass",
      confirmed: true,
      rule: { kind: "nonbinary", r: 1 },
    });
    const reasons = document.verdict.reasons.join(" ");
    expect(reasons).toContain("is confirmed");
    const records = await asfound(["records", document.shot, "--data", place.data]);
    expect(records.stdout).toContain("✓ pass (Pass)");
    expect(records.stdout).toContain("non-binary");
  });

  it("a band is imported, goes before the table where codes agree, and judges a time by hand too", async () => {
    const table = "edge,multiple,seconds\nminimum,1.5,60\nminimum,3,10\nmaximum,1.5,400\nmaximum,3,100\n";
    const imported = await on(
      ["bands", "import", file("band.csv", table)],
      [
        ...["--id", "mk-t1", "--title", "invented", "--document", "invented"],
        ...["--make-code", "MK", "--type-code", "T1"],
      ],
    );
    expect(imported.code).toBe(0);

    const byBand = await shoot("never-trips", ["--rule", "guard", "--r", "1"]);
    expect(byBand.document.verdict).toMatchObject({ result: "fail", limitSet: "mk-t1" });
    expect(byBand.document.verdict.reasons.join(" ")).toContain("Order of precedence: band first");
    expect((await on(["rederive"])).document).toMatchObject({ shots: 1, same: 1 });
    expect((await on(["verify"])).document).toMatchObject({ ok: true });

    const byHand = await on([
      "judge",
      "--band",
      "mk-t1",
      "--rated",
      "20",
      "--amps",
      "30",
      "--seconds",
      "401",
    ]);
    expect(byHand.document).toMatchObject({ result: "fail", finding: "late trip", limitSeconds: 400 });
  });

  it("a calibration past due blocks, then flags where the lab has decided so", async () => {
    const certificate = {
      ...{ instrument: "emulated rig", serial: "EMU-000003", quantity: "current", certificate: "C-1" },
      ...{ issuer: "invented", on: "2020-01-01", due: "2021-01-01", expandedPercent: 0.5, k: 2 },
    };
    const path = file("certificate.json", JSON.stringify(certificate));
    expect((await on(["calibrations", "add", "--file", path])).code).toBe(0);
    expect((await on(["calibrations", "list"])).document.calibrations).toMatchObject([{ state: "past due" }]);
    const blocked = await shoot("sound");
    expect(blocked.code).toBe(2);
    expect(blocked.document.error).toContain("PAST DUE since 2021-01-01");
    expect((await on(["specimens"])).document.specimens).toEqual([]);
    await on(["policy", "--past-due", "flag"]);
    expect((await shoot("sound")).document.reading.flags).toContain("calibration-past-due");
  });

  it.each([
    [["--rule", "guard", "--r", "100"], "refused before any current"],
    [["--band", "nothing"], 'no band "nothing"'],
  ])("a shot with %j is refused before anything is stored", async (more, words) => {
    const run = await shoot("sound", more);
    expect(run.code).toBe(2);
    expect(run.document.error).toContain(words);
    expect((await on(["specimens"])).document.specimens).toEqual([]);
  });

  it("r below zero and a band that crosses are refused", async () => {
    expect(await shoot("sound", ["--rule", "guard", "--r", "-1"])).toMatchObject({ code: 2, stdout: "" });
    const table = "edge,multiple,seconds\nminimum,1.5,60\nminimum,3,200\nmaximum,1.5,400\nmaximum,3,100\n";
    const run = await on(
      ["bands", "import", file("band.csv", table)],
      [...["--id", "x", "--title", "x", "--document", "x"]],
    );
    expect(run.code).toBe(2);
    expect(run.document.error).toContain("band.csv: line 3: the edges cross");
    expect((await on(["bands", "list"])).document.bands).toEqual([]);
  });
});
