import { execFileSync } from "node:child_process";
import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { PackageFiles } from "../../src/exchange/bag.ts";
import { readPackage, writePackage } from "../../src/exchange/package-place.ts";
import { BenchDesk } from "../../src/lab/bench-desk.ts";
import { importSpecimens } from "../../src/lab/import-specimens.ts";
import type { Lab } from "../../src/lab/lab.ts";
import { openLab } from "../../src/lab/open-lab.ts";
import { receiveSpecimen } from "../../src/lab/receive-specimen.ts";
import { Seeding } from "../../src/lab/seeding.ts";
import { verifyPackage } from "../../src/lab/verify-package.ts";
import { buildServer } from "../../src/server/build-server.ts";
import { asfound, tool, toolIsThere, workplace } from "./asfound.ts";

const python = resolve(import.meta.dirname, "../fixtures/evidence/recompute_chain.py");
const specimen = {
  label: "KS-1",
  ratedAmps: 20,
  poles: 1,
  volts: 120,
  job: "9 Invented Street",
  panel: "cellar",
  receivedOn: "2026-03-09",
  condition: "found by J. Invented, café €",
  selection: "on suspicion",
};

const place = workplace(specimen);
const at = (name: string): string => join(place.folder, name);
const run = (...args: string[]) => asfound([...args, "--data", place.data, "--json"]);
/** Runs a tool on text and gives what it prints; throws with its words where it fails. */
const piped = (name: string, args: readonly string[], input: string): string =>
  execFileSync(name, args, { input, encoding: "utf8", stdio: ["pipe", "pipe", "pipe"] });

/** Python is looked for as a shell would: it may be anywhere on the path. */
function pythonIsThere(): boolean {
  try {
    piped("python3", ["--version"], "");
    return true;
  } catch {
    if (process.env.ASFOUND_NO_SKIPS === "1") throw new Error("python3 is needed and not there");
    process.stderr.write("\nSKIPPED for want of python3\n");
    return false;
  }
}

beforeAll(async () => {
  const shot = await asfound([
    ...["shoot", "--link", "emulated?breaker=sound&speed=20000&seed=3", "--data", place.data],
    ...["--specimen", place.specimenFile, "--point", "2", "--json"],
  ]);
  expect(shot.code).toBe(0);
  expect((await run("package", "--specimen", "KS-1", "--out", at("bag"))).code).toBe(0);
  expect((await run("package", "--job", specimen.job, "--publish", "--out", at("published.zip"))).code).toBe(
    0,
  );
}, 120_000);
afterAll(() => place.remove());

describe.runIf(pythonIsThere())("the ledger, recomputed by another program", () => {
  // Doubles of RFC 8785, appendix B, computed again by the platform.
  it("agrees on numbers with the vectors of RFC 8785", () => {
    const vectors = [
      ["8000000000000000", "0"],
      ["0000000000000001", "5e-324"],
      ["7fefffffffffffff", "1.7976931348623157e+308"],
      ["4340000000000000", "9007199254740992"],
      ["4430000000000000", "295147905179352830000"],
      ["44b52d02c7e14af6", "1e+23"],
      ["41b3de4355555553", "333333333.3333332"],
      ["becbf647612f3696", "-0.0000033333333333333333"],
      ["43143ff3c1cb0959", "1424953923781206.2"],
    ];
    piped("python3", [python, "--vectors"], JSON.stringify(vectors));
  });

  // RFC 8785, section 3.2.2 and 3.2.3: the sample of the document, and its SHA-256.
  it("agrees on the canonical form of the sample of RFC 8785", () => {
    const sample = String.raw`{"numbers":[333333333.33333329,1E30,4.50,2e-3,0.000000000000000000000000001],"string":"\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/","literals":[null,true,false]}`;
    const canonical = piped("python3", [python, "--canonical"], sample);
    expect(createHash("sha256").update(canonical).digest("hex")).toBe(
      "2d5e01a318d0f0879ab568c4be289c8b1f64ef8921a53c6277d5e069978baacb",
    );
  });

  it("has the hashes, the chain, the head, and signatures that openssl accepts", async () => {
    const ledger = await run("ledger");
    expect(ledger.document.entries.length).toBeGreaterThan(3);
    const folder = at("entries");
    mkdirSync(folder);
    expect(piped("python3", [python, folder], ledger.stdout).trim()).toBe(ledger.document.head);
    if (!toolIsThere("openssl")) return;
    for (const { sequence } of ledger.document.entries) {
      const args = ["pkeyutl", "-verify", "-pubin", "-inkey", join(folder, "key.pem"), "-rawin"];
      const files = ["-in", join(folder, `${sequence}.hash`), "-sigfile", join(folder, `${sequence}.sig`)];
      expect(tool("openssl", [...args, ...files])).toContain("Verified Successfully");
    }
  });

  it("is found false where any entry is changed", async () => {
    const { document } = await run("ledger");
    document.entries[1].body.details.ratedAmps = 15;
    expect(() => piped("python3", [python, at("entries")], JSON.stringify(document))).toThrow(
      "entry 2 hashes to",
    );
  });
});

describe("asfound ledger", () => {
  it("gives only what is newer, with the head of the whole", async () => {
    const all = (await run("ledger")).document;
    const newer = (await run("ledger", "--since", "2")).document;
    expect(newer.entries).toEqual(all.entries.slice(2));
    expect(newer.head).toBe(all.head);
    const none = (await run("ledger", "--since", String(all.entries.length))).document;
    expect(none).toEqual({ ...all, entries: [] });
  });
});

describe("asfound specimens import", () => {
  const list = at("list.csv");
  const importing = (text: string) => {
    writeFileSync(list, text);
    return run("specimens", "import", list);
  };
  let lab: Lab;
  beforeAll(() => {
    lab = openLab(at("other"));
    receiveSpecimen(lab, { label: "KS-1", ratedAmps: 20, poles: 1, volts: 120 });
  });
  afterAll(() => lab.store.close());
  const importInProcess = (text: string) => {
    writeFileSync(list, text);
    return importSpecimens(lab, list);
  };
  const header = "label,ratedAmps,poles,volts,job,madeYear,demo";

  it("receives all rows in their order, and the list still lists", async () => {
    const { code, document } = await importing(
      `${header}\nL-1,20,1,120,"a, b",1974,true\nL-2,30.5,2,240,,,\n`,
    );
    expect(code).toBe(0);
    expect(document.received.map((one: { label: string }) => one.label)).toEqual(["L-1", "L-2"]);
    const listed = (await run("specimens")).document.specimens;
    expect(listed.slice(-2).map((one: { details: object }) => one.details)).toEqual([
      { label: "L-1", ratedAmps: 20, poles: 1, volts: 120, job: "a, b", madeYear: 1974, demo: true },
      { label: "L-2", ratedAmps: 30.5, poles: 2, volts: 240 },
    ]);
    expect((await run("verify")).code).toBe(0);
  });

  it.each([
    [
      "a number that is none",
      "M-1,20,1,120,,,\nM-2,twenty,1,120,,,",
      'line 3, ratedAmps: found "twenty"; accepted: a number above 0',
    ],
    ["poles that no breaker has", "M-1,20,4,120,,,", 'line 2, poles: found "4"; accepted: 1, 2, 3'],
    ["a field that is missing", "M-1,,1,120,,,", "line 2, ratedAmps: found nothing"],
    ["half a year", "M-1,20,1,120,,1974.5,", 'line 2, madeYear: found "1974.5"; accepted: a whole number'],
    ["a word for true", "M-1,20,1,120,,,yes", 'line 2, demo: found "yes"; accepted: true or false'],
    [
      "a label twice",
      "M-1,20,1,120,,,\nM-1,20,1,120,,,",
      'line 3, label: found "M-1", already used in line 2',
    ],
    [
      "a label in the ledger",
      "M-1,20,1,120,,,\nKS-1,20,1,120,,,",
      'line 3, label: found "KS-1", which already names',
    ],
    ["a formula", "M-1,20,1,120,=cmd(),,", "would run as a formula"],
    ["a label that is a path", "../M-1,20,1,120,,,", "a name without /"],
    ["a row that is too short", "M-1,20,1", "found 3 fields; the header has 7"],
    ["nothing", "", "no specimen below the header"],
  ])("refuses %s, and receives none of the rows", (_what, rows, words) => {
    expect(() => importInProcess(`${header}\n${rows}\n`)).toThrow(words);
    expect(lab.store.records.specimens()).toHaveLength(1);
  });

  it("refuses columns that it does not know, and says which it does", () => {
    expect(() => importInProcess("label,ratedAmps,poles,volts,colour\nM-1,20,1,120,red\n")).toThrow(
      "colour; accepted: label, ratedAmps, poles, volts, frameAmps (optional)",
    );
  });

  it("is refused by the command with exit code 2 and the fields named", async () => {
    const { code, document } = await importing(`${header}\nM-1,twenty,1,120,,,\n`);
    expect(code).toBe(2);
    expect(document.fields).toEqual([
      { field: "line 2, ratedAmps", problem: expect.stringContaining('found "twenty"') },
    ]);
  });
});

describe("a package", () => {
  it("is checked by common tools, as its own text tells", () => {
    if (!toolIsThere("openssl")) return;
    const inside = { cwd: at("bag"), encoding: "utf8" } as const;
    for (const name of ["manifest-sha256.txt", "tagmanifest-sha256.txt"])
      execFileSync("sha256sum", ["--strict", "--quiet", "-c", name], inside);
    const guide = readFileSync(join(at("bag"), "data/HOW-TO-CHECK.txt"), "utf8");
    const commands = [...guide.matchAll(/^ {2}(openssl pkeyutl .*(?:\n {4}.*)?)$/gm)].map(
      (one) => one[1] ?? "",
    );
    expect(commands).toHaveLength(3);
    for (const command of commands.slice(0, 2))
      expect(execFileSync("sh", ["-c", command], inside)).toContain("Verified Successfully");
    const lines = /import glob[\s\S]*print\(name, "holds"\)/.exec(guide)?.[0] ?? "";
    const records = readdirSync(join(at("bag"), "data/records"));
    expect(execFileSync("python3", ["-c", lines], inside).trim().split("\n")).toHaveLength(records.length);
  });

  it("holds, and says whose it is", async () => {
    const { code, document } = await asfound(["verify", "--package", at("bag"), "--json"]);
    expect(document).toMatchObject({ ok: true, problems: [], derived: 1, published: false });
    expect(code).toBe(0);
    const key = ["--key", "0".repeat(64)];
    expect(
      (await asfound(["verify", "--package", at("bag"), ...key, "--json"])).document.problems[0],
    ).toContain("the key known is 0000");
    expect((await asfound(["verify", "--package", at("nothing"), "--json"])).code).toBe(2);
  });

  it("is the same bytes when it is made again", async () => {
    const ledger = (await run("ledger")).document.entries.length;
    for (const name of ["one.zip", "two.zip"]) await run("package", "--specimen", "KS-1", "--out", at(name));
    expect((await run("ledger")).document.entries).toHaveLength(ledger);
    expect(Buffer.compare(readFileSync(at("one.zip")), readFileSync(at("two.zip")))).toBe(0);
  });

  const changed = (name: string, change: (files: PackageFiles) => void) => {
    const read = readPackage(at("bag"));
    if (!read.ok) throw new Error(read.problem);
    change(read.files);
    writePackage(at(name), read.files);
    return verifyPackage(at(name));
  };
  const filesOfBag = (): string[] => {
    const read = readPackage(at("bag"));
    return read.ok ? [...read.files.keys()] : [];
  };

  it("is found changed, and the file named, wherever a bit of any file is flipped", () => {
    expect(filesOfBag().length).toBeGreaterThan(25);
    for (const path of filesOfBag()) {
      const file = join(at("bag"), path);
      const original = readFileSync(file);
      for (const place of new Set([0, original.length >> 1, original.length - 1])) {
        const bad = Buffer.from(original);
        bad[place] = (bad[place] ?? 0) ^ 1;
        writeFileSync(file, bad);
        const { ok, problems } = verifyPackage(at("bag"));
        expect(ok, `${path} at ${place}`).toBe(false);
        expect(problems.join("\n"), `${path} at ${place}`).toContain(path.replace(/^data\//, ""));
      }
      writeFileSync(file, original);
    }
    expect(verifyPackage(at("bag")).ok).toBe(true);
  }, 120_000);

  it("is found changed where a file is taken away or added", () => {
    for (const path of filesOfBag().filter((one) => /record|block|exhibit|manifest/.test(one)))
      expect(
        changed(`without-${path.replaceAll("/", "-")}`, (files) => files.delete(path)).problems.join(),
      ).toContain(path);
    const added = changed("with", (files) => files.set("data/more.txt", Buffer.from("x")));
    expect(added.problems[0]).toContain("data/more.txt is there but not listed");
  });

  it("is found false where a record is rewritten and every list of hashes made anew", () => {
    const forged = changed("forged", (files) => {
      const sha = (path: string) =>
        createHash("sha256")
          .update(files.get(path) ?? "")
          .digest("hex");
      const path = [...files.keys()].filter((one) => one.includes("records/")).at(-1) ?? "";
      const text = Buffer.from(files.get(path) ?? [])
        .toString()
        .replace('"result":"pass"', '"result":"fail"');
      files.set(path, Buffer.from(text));
      const list = (names: string[]) =>
        Buffer.from(
          names
            .sort()
            .map((one) => `${sha(one)}  ${one}\n`)
            .join(""),
        );
      files.set("manifest-sha256.txt", list([...files.keys()].filter((one) => one.startsWith("data/"))));
      const tags = [...files.keys()].filter(
        (one) => !one.startsWith("data/") && !one.startsWith("tagmanifest"),
      );
      files.set("tagmanifest-sha256.txt", list(tags));
    });
    expect(forged.problems[0]).toContain("no signature of the station over manifest-sha256.txt");
    expect(forged.problems[1]).toContain("was altered: its content hashes to");
  });
});

describe("a published package", () => {
  it("holds, says what was left out, and names nobody and no place", async () => {
    const { document } = await asfound(["verify", "--package", at("published.zip"), "--json"]);
    expect(document).toMatchObject({ ok: true, published: true, derived: 1 });
    const read = readPackage(at("published.zip"));
    if (!read.ok) throw new Error(read.problem);
    const withheld = Buffer.from(read.files.get("data/WITHHELD.csv") ?? []).toString();
    expect(withheld).toContain("2,specimen-received,body.details.job,replaced by a keyed code");
    expect(withheld).toContain("2,specimen-received,body.details.condition,left out");
    const texts = [...read.files].map(([path, bytes]) => [path, Buffer.from(bytes).toString()]);
    if (toolIsThere("pdftotext")) {
      writeFileSync(at("published.pdf"), read.files.get("data/exhibit.pdf") ?? "");
      texts.push(["text of the exhibit", tool("pdftotext", [at("published.pdf"), "-"])]);
    }
    for (const [path, text] of texts)
      for (const secret of ["KS-1", "Invented Street", "cellar", "J. Invented", "2026-03-09", "unnamed lab"])
        expect(text, path).not.toContain(secret);
  });
});

describe.runIf(["pdfinfo", "pdffonts", "pdftotext", "qpdf"].every(toolIsThere))("an exhibit", () => {
  const make = (out: string) =>
    run(
      "exhibit",
      "--specimen",
      "KS-1",
      "--out",
      at(out),
      "--label",
      "Exhibit A",
      "--case",
      "A v. B",
      "--bates",
      "AF",
    );

  it("passes the checks of common tools, and is the same bytes twice", async () => {
    expect((await make("one.pdf")).code).toBe(0);
    expect((await make("two.pdf")).code).toBe(0);
    expect(Buffer.compare(readFileSync(at("one.pdf")), readFileSync(at("two.pdf")))).toBe(0);
    expect(tool("qpdf", ["--check", at("one.pdf")])).toContain("No syntax or stream encoding errors");
    const info = tool("pdfinfo", [at("one.pdf")]);
    expect(info).toMatch(/Title: +Trip tests of specimen KS-1/);
    expect(info).toMatch(/Tagged: +yes/);
    expect(info).toMatch(/Encrypted: +no/);
    expect(info).toMatch(/PDF version: +1\.7/);
    expect(tool("pdfinfo", ["-meta", at("one.pdf")])).toContain("<pdfaid:part>2</pdfaid:part>");
    const fonts = tool("pdffonts", [at("one.pdf")])
      .trim()
      .split("\n")
      .slice(2);
    expect(fonts.length).toBeGreaterThan(2);
    for (const font of fonts) expect(font).toMatch(/DejaVu.* yes yes yes /);
    expect((await make("one.pdf")).document.error).toContain("exists already");
  });

  it("says what it must on its pages", async () => {
    const pages = tool("pdftotext", ["-layout", at("one.pdf"), "-"])
      .split("\f")
      .slice(0, -1);
    for (const [number, page] of pages.entries()) {
      expect(page).toContain("EMULATED RIG");
      expect(page).toContain("Relates only to the specimens tested.");
      expect(page).toContain(`AF${String(number + 1).padStart(6, "0")}`);
      expect(page).toContain("Exhibit A · A v. B");
    }
    const text = pages.join("\n").replace(/\s+/g, " ");
    const head = (await run("ledger")).document.head;
    for (const words of [
      head.slice(0, 16),
      "UNCONFIRMED",
      "Worst false acceptance",
      "50 %",
      "Limits of the method",
      "Budget of",
      "MISSING",
      "No calibration of the rig is on record",
      "found by J. Invented, café €",
      "End of exhibit",
    ])
      expect(text).toContain(words);
  });

  it.each([
    [["--specimen", "no-such"], "there is no specimen"],
    [["--job", "no such job"], "9 Invented Street"],
    [[], "neither --specimen nor --job"],
    [["--specimen", "KS-1", "--job", "x"], "both"],
    [["--specimen", "KS-1", "--label", "x".repeat(81)], "accepted is one line"],
  ])("refuses %j", async (args, words) => {
    const { code, document } = await run("exhibit", ...args, "--out", at("refused.pdf"));
    expect(code).toBe(2);
    expect(document.error).toContain(words);
    expect(existsSync(at("refused.pdf"))).toBe(false);
  });
});

describe("the server", () => {
  it("gives the ledger, an exhibit and a package that holds", async () => {
    const lab = openLab(place.data);
    const desk = new BenchDesk(lab, "emulated");
    const app = await buildServer({ lab, desk, seeding: new Seeding() });
    const get = (url: string) => app.inject({ method: "GET", url, headers: { host: "127.0.0.1" } });
    try {
      const { specimen } = lab.store.records.specimenByLabel("KS-1") ?? { specimen: "" };
      expect((await get("/api/ledger?since=1")).json()).toMatchObject({ publicKey: lab.store.publicKey });
      const pdf = await get(`/api/exhibit.pdf?specimen=${specimen}&class=duplicate`);
      expect([pdf.statusCode, pdf.headers["content-type"]]).toEqual([200, "application/pdf"]);
      const zip = await get(`/api/package.zip?specimen=${specimen}`);
      writeFileSync(at("served.zip"), zip.rawPayload);
      expect(verifyPackage(at("served.zip"))).toMatchObject({ ok: true, problems: [] });
      expect((await get("/api/exhibit.pdf")).statusCode).toBe(400);
      expect((await get("/api/exhibit.pdf?specimen=none")).statusCode).toBe(404);
      const two = (await get("/api/ledger?since=1&limit=2")).json();
      expect(two.entries.map((one: { sequence: number }) => one.sequence)).toEqual([2, 3]);
      expect(two.head).toBe(lab.store.ledger.head().hash);
      expect((await get("/api/ledger?since=x")).statusCode).toBe(400);
      expect((await get("/api/ledger?limit=0")).statusCode).toBe(400);
    } finally {
      await app.close();
      lab.store.close();
    }
  }, 60_000);
});
