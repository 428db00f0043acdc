import { existsSync, readdirSync, readFileSync, symlinkSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { jpegWithPlaces, png, secret } from "../lab/pictures.ts";
import { asfound, workplace } from "./asfound.ts";

let place: ReturnType<typeof workplace>;
beforeEach(() => {
  place = workplace({ label: "A-1", ratedAmps: 20, poles: 1, volts: 120, job: "Mill Lane" });
});
afterEach(() => place.remove());

const on = (...args: string[]) => asfound([...args, "--data", place.data, "--json"]);
const file = (name: string, content: string | Uint8Array) => {
  writeFileSync(join(place.folder, name), content);
  return join(place.folder, name);
};
const shoot = () =>
  on(
    ...["shoot", "--specimen", place.specimenFile, "--point", "2"],
    ...["--link", "emulated?breaker=sound&speed=5000&seed=3"],
  );
const receiveFromList = async (): Promise<string> => {
  const list = file("list.csv", "label,ratedAmps,poles,volts,job\nA-1,20,1,120,Mill Lane\n");
  return (await on("specimens", "import", list)).document.received[0].specimen;
};
const hour = (back: number) => new Date(Date.now() - back * 3_600_000).toISOString();

// Each step is a process of its own, two dozen in all.
describe("the record of a specimen, from the command line", { timeout: 120_000 }, () => {
  it("goes from the job to the released record, and all of it verifies", async () => {
    const id = await receiveFromList();
    const job = file(
      "job.json",
      JSON.stringify({ job: "Mill Lane", site: "invented", on: "2025-01-02", panels: ["P1"] }),
    );
    expect((await on("jobs", "open", "--file", job, "--by", "N. N.")).document.specimens).toMatchObject([
      { id },
    ]);
    const custody = (event: string, from: string, to: string, at: string) =>
      on(
        ...["custody", "add", "--specimen", id, "--event", event, "--from", from, "--to", to],
        ...["--at", at, "--seal", "S-1=intact", "--by", "N. N."],
      );
    expect((await custody("receipt", "Electrician", "Lab", hour(3))).code).toBe(0);
    expect((await custody("testing", "Store", "Bench", hour(1))).code).toBe(0);
    const chain = await on("custody", "show", "--specimen", id);
    expect(chain.document.remarks).toMatchObject([{ kind: "gap" }]);
    const shown = await asfound(["custody", "show", "--specimen", id, "--data", place.data]);
    expect(shown.stdout).toContain("Electrician -> Lab");
    expect(shown.stdout).toContain("nothing says how it came from Lab");

    await on("gate", "decide", "--demand", "photographs,parties");
    const refused = await shoot();
    expect(refused.code).toBe(2);
    expect(refused.document.error).toContain("photographs as received");
    expect(refused.document.error).toContain("parties notified");
    const added = await on(
      ...["photographs", "add", file("front.jpg", jpegWithPlaces()), "--specimen", id],
      ...["--shows", "as received", "--by", "N. N."],
    );
    const { photograph } = added.document.record;
    const skip = file(
      "gate.json",
      JSON.stringify({ skipped: [{ item: "parties", reason: "no litigation expected" }] }),
    );
    const passed = await on("gate", "pass", "--specimen", id, "--file", skip, "--by", "N. N.");
    expect(passed.document.open).toBe(true);
    const { document: made } = await shoot();
    expect(made.verdict.result).toBe("pass");

    const out = join(place.folder, "published.jpg");
    expect((await on("photographs", "copy", photograph, "--publish", "--out", out)).code).toBe(0);
    expect(readFileSync(out).includes(secret)).toBe(false);
    expect((await on("photographs", "copy", photograph, "--out", out)).document.error).toContain(
      "exists already",
    );

    const amended = await on(
      ...["amend", "add", "--entry", "2", "--path", "/details/dateCode", "--after", '"9714"'],
      ...["--why", "seen after opening", "--by", "N. N."],
    );
    expect(amended.document.now.details.dateCode).toBe("9714");
    const record = ["--shot", made.shot, "--by"];
    expect((await on("review", "add", "--finding", "accepted", ...record, "bench")).document.error).toContain(
      "second person",
    );
    await on("review", "add", "--finding", "accepted", ...record, "Second");
    expect((await on("review", "release", ...record, "Second")).document.state).toBe("released");
    await on(
      ...["amend", "add", "--entry", "2", "--path", "/details/dateCode", "--before", '"9714"'],
      ...["--after", '"9713"', "--why", "misread", "--by", "N. N."],
    );
    expect((await on("review", "show", "--shot", made.shot)).document.state).toBe("superseded");
    expect((await on("amend", "list", "--about", id)).document.entries[0].history).toHaveLength(2);
    expect((await on("rederive")).document).toMatchObject({ shots: 1, same: 1 });
    expect((await on("verify")).document).toMatchObject({ ok: true });

    writeFileSync(join(place.data, "photographs", photograph), png);
    const swapped = await on("verify");
    expect(swapped.code).toBe(1);
    expect(swapped.document.problems[0]).toContain(`photograph ${photograph} was swapped`);
  });

  it("refuses what is no picture, and bad names, times and values, in words; nothing is stored", async () => {
    const id = await receiveFromList();
    const { head } = (await on("ledger")).document;
    const photo = (path: string) =>
      on("photographs", "add", path, "--specimen", id, "--shows", "other", "--by", "N. N.");
    symlinkSync("/dev/zero", join(place.folder, "endless.png"));
    for (const [path, words] of [
      [file("words.jpg", "no picture"), "is not a picture"],
      [file("empty.png", ""), "is empty"],
      [file("half.png", png.subarray(0, 100)), "begins as a PNG and is none"],
      [file("huge.png", Buffer.concat([png, Buffer.alloc(40_000_000)])), "accepted are 40000000"],
      [join(place.folder, "endless.png"), "is not a file"],
      [join(place.folder, "none.png"), "there is no such file"],
    ] as const) {
      const run = await photo(path);
      expect(run.code).toBe(2);
      expect(run.document.error).toContain(words);
    }
    const bad = file("bad.json", JSON.stringify({ job: "../etc", site: "x", on: "2025-01-02" }));
    expect((await on("jobs", "open", "--file", bad, "--by", "N. N.")).document.error).toContain(
      "without / and",
    );
    const amend = (...more: string[]) =>
      on("amend", "add", "--entry", "2", "--by", "N.", "--why", "x", ...more);
    const path = "/details/ratedAmps";
    expect((await amend("--path", path, "--before", "21", "--after", "25")).document.error).toContain(
      "is 20",
    );
    expect((await amend("--path", path, "--before", "20", "--after", "many")).document.error).toContain(
      "accepted is JSON",
    );
    expect((await on("custody", "show")).document.error).toContain("one of --specimen ID and --job NAME");
    expect((await on("ledger")).document.head).toBe(head);
    expect(existsSync(join(place.data, "photographs"))).toBe(false);
    expect(readdirSync(place.data)).not.toContain("etc");
  });
});
