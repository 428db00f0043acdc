import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type PackageFiles, sha256OfBytes } from "../../src/exchange/bag.ts";
import { writePackage } from "../../src/exchange/package-place.ts";
import { amendEntry } from "../../src/lab/amendments.ts";
import { makeExhibit } from "../../src/lab/make-exhibit.ts";
import { makePackage } from "../../src/lab/make-package.ts";
import { releaseRecord, reviewRecord } from "../../src/lab/reviews.ts";
import { acceptTimeStamp, requestTimeStamp } from "../../src/lab/time-stamps.ts";
import { verifyPackage } from "../../src/lab/verify-package.ts";
import { toolIsThere } from "../system/asfound.ts";
import { HandledLab, invented } from "./handled-lab.ts";
import { secret } from "./pictures.ts";
import { TimeStampAuthority } from "./time-stamp-authority.ts";

const folder = mkdtempSync(join(tmpdir(), "asfound-handling-"));
let place: HandledLab;
let about: { kind: "specimen"; id: string };
beforeAll(() => {
  place = new HandledLab();
  about = { kind: "specimen", id: place.specimen };
});
afterAll(() => {
  place.remove();
  rmSync(folder, { recursive: true, force: true });
});

const textOf = (pdf: Uint8Array): string =>
  execFileSync("pdftotext", ["-layout", "-", "-"], { input: pdf, encoding: "utf8" }).replace(/\s+/g, " ");
const exhibitText = async (): Promise<string> =>
  textOf((await makeExhibit(place.lab, { specimen: place.specimen })).pdf);
const release = () => {
  reviewRecord(place.lab, { about, finding: "accepted", by: "R. Reviewer" }, "review");
  releaseRecord(place.lab, { about, by: "R. Reviewer" }, "release");
  return place.lab.store.ledger.head().sequence;
};

describe.runIf(toolIsThere("pdftotext"))("an exhibit of a handled specimen", () => {
  it("tells of removal, custody with its gaps, photographs with their hashes, and the gate", async () => {
    const text = await exhibitText();
    for (const words of [
      "9 Invented Street, Inventown",
      "REF-4711",
      "after a fire in the cellar",
      "seal SEAL-77 intact",
      "Pointed out: From 2026-06-15T08:02:00.000Z",
      "locker 3",
      "front.jpg, 40 × 24",
      "continuity at 24 V: closed",
      "skipped one test only",
      "the insurer, notified 2026-06-13: will not attend",
      "Present: N. Witness",
      "No entry on which this exhibit rests was amended.",
      "The record of KS-1 is not released: this is a draft.",
    ])
      expect(text).toContain(words);
    const photographs = [...place.lab.store.ledger.entries({ kind: "photograph-added" })];
    expect(photographs).toHaveLength(2);
    for (const { body } of photographs) expect(text.replaceAll(" ", "")).toContain(body.photograph);
  });

  it("draws the chain of custody as a timeline before its table, the same bytes each time", async () => {
    const first = await makeExhibit(place.lab, { specimen: place.specimen });
    const names = first.figures.map(({ name }) => name);
    expect(names).toContain(`custody-timeline-${place.specimen}`);
    const figure = first.figures[names.indexOf(`custody-timeline-${place.specimen}`)];
    expect(figure?.words).toContain("1 receipt, 2026-06-15 08:01 UTC, from I. Invented to reception");
    expect(figure?.svg).toContain("A gap");
    const text = textOf(first.pdf);
    expect(text).toMatch(
      /Chain of custody: KS-1.*time between.*in the order of what was observed No\. Observed/,
    );
    expect(text).toContain("(A in the timeline)");
    const again = await makeExhibit(place.lab, { specimen: place.specimen });
    expect(Buffer.compare(first.pdf, again.pdf)).toBe(0);
  });

  it("has no timeline where no event is on record, and says so", async () => {
    const specimen = place.receive({ label: "KS-9", poles: 1 });
    const { figures, pdf } = await makeExhibit(place.lab, { specimen });
    expect(figures.filter(({ name }) => name.startsWith("custody-timeline"))).toEqual([]);
    expect(textOf(pdf)).toContain("There is no event to draw as a timeline.");
  });

  it("gives the same as tables", async () => {
    const { tables } = await makeExhibit(place.lab, { specimen: place.specimen });
    const rowsOf = (name: string) => tables.find((one) => one.name === name)?.rows;
    expect(rowsOf("custody-chain")?.map((row) => row[5])).toEqual(["receipt", "storage", "opening"]);
    expect(rowsOf("photographs")?.map((row) => row[2])).toEqual(["as received", "marking"]);
    expect(rowsOf("amendments")).toEqual([]);
    for (const { header, rows } of tables) for (const row of rows) expect(row).toHaveLength(header.length);
  });

  it("names its release; after an amendment says so and what it replaces; released anew, what it replaced", async () => {
    const first = release();
    const released = await exhibitText();
    expect(released).toContain(`issue 1 of the record of KS-1, released by R. Reviewer (entry ${first})`);
    expect(released).not.toContain("AMENDED");
    expect(released).not.toContain("It replaces");

    const [received] = place.lab.store.ledger.entries({ kind: "specimen-received" });
    amendEntry(
      place.lab,
      {
        ...{ entry: received?.sequence, path: "/details/condition", before: "sooty" },
        ...{ after: "sooty, cracked", why: "seen on the photograph", by: "clerk" },
      },
      "amendment",
    );
    const amended = await exhibitText();
    expect(amended).toContain("AMENDED AFTER RELEASE: issue 1 of the record of KS-1");
    expect(amended).toContain(`whose footer names an entry below ${first + 1}.`);
    expect(amended).toContain("Condition as received sooty, cracked");
    expect(amended).toMatch(/\/details\/condition sooty sooty, cracked seen on the/);
    expect(amended).toMatch(/o Who authorised the report MISSING/);

    const second = release();
    const again = await exhibitText();
    expect(again).toContain("Built on issue 2 of the record of KS-1");
    expect(again).toContain(`It replaces every exhibit of it whose footer names an entry below ${second}.`);
    expect(again).not.toContain("AMENDED AFTER RELEASE");
    expect(again).not.toMatch(/o Who authorised the report MISSING/);
  });
});

describe.runIf(["pdftotext", "openssl"].every(toolIsThere))("a package of a handled specimen", () => {
  let files: PackageFiles;
  let authority: TimeStampAuthority;
  const check = (changed: PackageFiles, name: string) => {
    const to = join(folder, name);
    writePackage(to, changed);
    const found = verifyPackage(to);
    rmSync(to, { recursive: true });
    return found;
  };
  /** Problems that are not of the lists of hashes, which any change disturbs. */
  const problemsAfter = (name: string, change: (files: PackageFiles) => void): string =>
    check(
      (() => {
        const copy = new Map(files);
        change(copy);
        return copy;
      })(),
      name,
    )
      .problems.filter((one) => !/manifest|Oxum/i.test(one))
      .join("\n");
  const pathOf = (ending: string): string => {
    const found = [...files.keys()].find((one) => one.endsWith(ending));
    if (found === undefined) throw new Error(`no file ends with ${ending}`);
    return found;
  };

  beforeAll(async () => {
    authority = new TimeStampAuthority(folder);
    acceptTimeStamp(place.lab, authority.answer(requestTimeStamp(place.lab).request), "answer.tsr");
    files = await makePackage(place.lab, { specimen: place.specimen });
  });

  it("holds photographs, amendments, reviews and the time stamp, and is found whole", () => {
    expect(check(files, "whole")).toMatchObject({ ok: true, problems: [] });
    const photographs = [...files].filter(([path]) => path.startsWith("data/photographs/"));
    expect(photographs).toHaveLength(2);
    for (const [path, bytes] of photographs) expect(path).toContain(sha256OfBytes(bytes));
    expect(Buffer.from(files.get(pathOf(".jpg")) ?? []).includes(secret)).toBe(true);
  });

  it("holds the timeline of custody as a figure of its own", () => {
    const path = `data/figures/custody-timeline-${place.specimen}.svg`;
    expect(Buffer.from(files.get(path) ?? []).toString()).toContain("<title>Chain of custody: KS-1</title>");
  });

  it("has a time stamp that openssl verifies against the statement beside it", () => {
    writeFileSync(join(folder, "s.txt"), files.get(pathOf(".tsr").replace(".tsr", ".txt")) ?? "");
    writeFileSync(join(folder, "s.tsr"), files.get(pathOf(".tsr")) ?? "");
    const args = ["ts", "-verify", "-data", "s.txt", "-in", "s.tsr", "-CAfile", "root.pem"];
    expect(authority.openssl(...args)).toContain("Verification: OK");
  });

  it("is found changed where a photograph is swapped, taken away or added", () => {
    const [jpg, png] = [pathOf(".jpg"), pathOf(".png")];
    expect(problemsAfter("swap", (all) => all.set(jpg, all.get(png) ?? new Uint8Array()))).toContain(
      "the record of the photograph says",
    );
    expect(problemsAfter("gone", (all) => all.delete(jpg))).toContain(`${jpg} is missing`);
    expect(problemsAfter("more", (all) => all.set("data/photographs/x.jpg", Buffer.of(1)))).toContain(
      "is named by no record",
    );
  });

  it("is found changed where the statement, the answer or a path of the time stamp is another", () => {
    const [answer, proofs] = [pathOf(".tsr"), pathOf("-proofs.json")];
    const text = answer.replace(".tsr", ".txt");
    const edit = (path: string, from: RegExp, to: string) => (all: PackageFiles) =>
      all.set(
        path,
        Buffer.from(
          Buffer.from(all.get(path) ?? [])
            .toString()
            .replace(from, to),
        ),
      );
    for (const [change, words] of [
      [edit(text, /entries \d+/, "entries 3"), "is not that of this ledger at the entry"],
      [edit(text, /root ./, "root f"), "it stamps"],
      [(all: PackageFiles) => all.delete(text), "is not that of this ledger"],
      [(all: PackageFiles) => all.set(answer, Buffer.of(1)), "is not the one in the record"],
      [edit(proofs, /\["[0-9a-f]{4}/, '["0000'), "does not lead to the root that was stamped"],
      [edit(proofs, /"000003":\[[^\]]*\],/, ""), "record 3 does not lead to the root"],
    ] as const)
      expect(problemsAfter("stamp", change)).toContain(words);
  });

  it("names nobody, no place, no seal and no day when it is published", async () => {
    const published = await makePackage(place.lab, { job: invented.job }, { publish: true });
    expect(check(published, "published")).toMatchObject({ ok: true, published: true });
    // The time of the authority's stamp is whole, and is no day of a record.
    const stamps = [...place.lab.store.ledger.entries({ kind: "time-stamped" })];
    const texts = [...published].map(([path, bytes]) => [
      path,
      stamps.reduce(
        (text, { body }) => text.replaceAll(body.time, "").replaceAll(body.response, ""),
        Buffer.from(bytes).toString("latin1"),
      ),
    ]);
    texts.push(["text of the exhibit", textOf(published.get("data/exhibit.pdf") ?? new Uint8Array())]);
    const secrets = [
      ...[invented.job, invented.person, invented.seal, "Inventown", "REF-4711", "cellar", "sooty", secret],
      ...["clerk", "R. Reviewer", "N. Witness", "the insurer", "locker", "2026-06", "front.jpg", "KS-1"],
    ];
    for (const [path, text] of texts)
      for (const one of secrets) expect(text?.includes(one), `${path}: ${one}`).toBe(false);
    const custody = JSON.parse(Buffer.from(published.get("data/records/000004.json") ?? []).toString()) as {
      actor: string;
      body: { from: string; about: object; seals: { condition: string }[] };
    };
    expect(custody.body.from).toMatch(/^person-[0-9a-f]{10}$/);
    expect(custody.body.seals[0]?.condition).toBe("intact");
    const remarks = texts.find(([path]) => path === "text of the exhibit")?.[1];
    expect(remarks).toMatch(
      /From 00:01:00 after the first event to 00:09:00 after the first event nothing says how it came from person-[0-9a-f]{10} \(storage \(entry \d+\)\) to person-[0-9a-f]{10}/,
    );
    const copies = [...published.keys()].filter((path) => path.startsWith("data/photographs/"));
    expect(copies).toHaveLength(2);
  });
});
