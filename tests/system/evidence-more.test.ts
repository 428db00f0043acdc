import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { BenchDesk } from "../../src/lab/bench-desk.ts";
import { openLab } from "../../src/lab/open-lab.ts";
import { Seeding } from "../../src/lab/seeding.ts";
import { buildServer } from "../../src/server/build-server.ts";
import { TimeStampAuthority } from "../lab/time-stamp-authority.ts";
import { asfound, tool, toolIsThere, workplace } from "./asfound.ts";

const place = workplace({ label: "KS-1", ratedAmps: 20, poles: 1, volts: 120, job: "9 Invented Street" });
const at = (name: string): string => join(place.folder, name);
const run = (...args: string[]) => asfound([...args, "--data", place.data, "--json"]);

beforeAll(async () => {
  const shot = await asfound([
    ...["shoot", "--link", "emulated?breaker=never-trips&speed=20000&seed=3", "--data", place.data],
    ...["--specimen", place.specimenFile, "--point", "2", "--json"],
  ]);
  expect(shot.code, shot.stdout + shot.stderr).toBe(0);
}, 120_000);
afterAll(() => place.remove());

describe.runIf(["pdfinfo", "pdffonts", "pdftotext", "qpdf"].every(toolIsThere))(
  "documents made by commands",
  () => {
    const documents: readonly [string, string[], string][] = [
      [
        "letter",
        ["letter", "--specimen", "KS-1", "--to", "Mrs Invented"],
        "What the test of your breaker showed",
      ],
      ["rates", ["exhibit", "--rates", "--by", "poles", "selection", "--point", "2"], "Failure rates"],
      ["labels", ["labels", "--specimen", "KS-1", "--skip", "4"], "Labels of 1 specimen"],
    ];

    it.each(documents)(
      "%s passes the checks of common tools, and is the same bytes twice",
      async (name, args, title) => {
        for (const copy of ["one", "two"])
          expect((await run(...args, "--out", at(`${name}-${copy}.pdf`))).code).toBe(0);
        const file = at(`${name}-one.pdf`);
        expect(Buffer.compare(readFileSync(file), readFileSync(at(`${name}-two.pdf`)))).toBe(0);
        expect(tool("qpdf", ["--check", file])).toContain("No syntax or stream encoding errors");
        const info = tool("pdfinfo", [file]);
        expect(info).toContain(title);
        expect(info).toMatch(/Tagged: +yes/);
        expect(info).toMatch(/Encrypted: +no/);
        expect(tool("pdfinfo", ["-meta", file])).toContain("<pdfaid:part>2</pdfaid:part>");
        const fonts = tool("pdffonts", [file]).trim().split("\n").slice(2);
        expect(fonts.length).toBeGreaterThan(1);
        for (const font of fonts) expect(font).toMatch(/DejaVu.* yes yes yes /);
        expect((await run(...args, "--out", file)).document.error).toContain("exists already");
      },
    );

    it("the letter is one page that tells an owner what failed", () => {
      expect(tool("pdfinfo", [at("letter-one.pdf")])).toMatch(/Pages: +1\n/);
      const text = tool("pdftotext", ["-layout", at("letter-one.pdf"), "-"]).replace(/\s+/g, " ");
      for (const words of ["1 did not switch off in time", "licensed electrician", "EMULATED RIG"])
        expect(text).toContain(words);
    });

    it.each([
      [["letter", "--specimen", "none"], "there is no specimen"],
      [["letter", "--specimen", "KS-1", "--job", "x"], "both --specimen and --job"],
      [["letter", "--job", "no such job"], "9 Invented Street"],
      [["labels", "--specimen", "none"], "there is no specimen"],
      [["labels", "--job", "none"], 'there is no specimen of job "none"'],
      [["exhibit", "--rates", "--specimen", "KS-1"], "--rates with --specimen"],
      [["exhibit", "--specimen", "KS-1", "--by", "poles"], "accepted only with --rates"],
      [["exhibit", "--rates", "--by", "colour"], 'found "colour"'],
    ])("%j is refused, and nothing is written", async (args, words) => {
      const { code, document } = await run(...args, "--out", at("refused.pdf"));
      expect(code).toBe(2);
      expect(document.error).toContain(words);
      expect(existsSync(at("refused.pdf"))).toBe(false);
    });
  },
);

describe.runIf(toolIsThere("openssl"))("asfound timestamp", () => {
  it("asks, stores the answer, lists it, and verify finds it in order", async () => {
    const authority = new TimeStampAuthority(place.folder);
    const asked = await run("timestamp", "request", "--out", at("q.tsq"), "--statement", at("s.txt"));
    expect(asked.code).toBe(0);
    expect(authority.openssl("ts", "-query", "-in", "q.tsq", "-text")).toContain("Hash Algorithm: sha256");
    writeFileSync(at("r.tsr"), authority.answer(readFileSync(at("q.tsq"))));
    const accepted = await run("timestamp", "accept", "--response", at("r.tsr"));
    expect(accepted.document).toMatchObject({ head: asked.document.head, remarks: [] });
    const check = ["ts", "-verify", "-data", "s.txt", "-in", "r.tsr", "-CAfile", "root.pem"];
    expect(authority.openssl(...check)).toContain("Verification: OK");
    expect((await run("timestamp", "list")).document.stamps).toEqual([accepted.document]);
    expect((await run("verify")).document).toMatchObject({ ok: true, problems: [] });
    const ledger = (await run("ledger")).document;
    expect(ledger.entries.at(-1).kind).toBe("time-stamped");
    const again = await run("timestamp", "accept", "--response", at("r.tsr"));
    expect(again.code).toBe(2);
    expect(again.document.error).toContain("is stored already");
    expect((await run("timestamp", "accept", "--response", at("q.tsq"))).code).toBe(2);
    expect((await run("timestamp", "accept", "--response", at("none.tsr"))).document.error).toContain(
      "cannot be read",
    );
    const made = await run("package", "--specimen", "KS-1", "--out", at("bag"));
    expect(made.code).toBe(0);
    expect((await asfound(["verify", "--package", at("bag"), "--json"])).document).toMatchObject({
      ok: true,
    });
  }, 60_000);
});

describe("the server", () => {
  it("gives letter, labels, rates and time stamps, and refuses as the commands do", async () => {
    const lab = openLab(place.data);
    const app = await buildServer({ lab, desk: new BenchDesk(lab, "emulated"), seeding: new Seeding() });
    const get = (url: string) => app.inject({ method: "GET", url, headers: { host: "127.0.0.1" } });
    try {
      const { specimen } = lab.store.records.specimenByLabel("KS-1") ?? { specimen: "" };
      for (const url of [
        `letter.pdf?specimen=${specimen}&to=A`,
        `labels.pdf?specimen=${specimen}&skip=3`,
        "labels.pdf",
        "exhibit-rates.pdf?by=poles&point=2&bates=AF",
      ]) {
        const answer = await get(`/api/${url}`);
        expect([url, answer.statusCode, answer.headers["content-type"]]).toEqual([
          url,
          200,
          "application/pdf",
        ]);
        expect(answer.rawPayload.subarray(0, 5).toString()).toBe("%PDF-");
      }
      const request = await get("/api/timestamp-request.tsq");
      expect(request.headers["content-type"]).toBe("application/timestamp-query");
      expect(Array.isArray((await get("/api/timestamps")).json())).toBe(true);
      const posted = await app.inject({
        ...{ method: "POST", url: "/api/timestamps", headers: { host: "127.0.0.1" } },
        payload: { response: request.rawPayload.toString("base64") },
      });
      expect(posted.statusCode).toBe(400);
      for (const url of ["letter.pdf", "labels.pdf?skip=30", "exhibit-rates.pdf?by=colour", "letter.pdf?to="])
        expect([url, (await get(`/api/${url}`)).statusCode]).toEqual([url, 400]);
    } finally {
      await app.close();
      lab.store.close();
    }
  }, 60_000);
});
