import { execFileSync } from "node:child_process";
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { EntryKind, LedgerEntry } from "../../src/contract/ledger-entries.ts";
import type { PackageFiles } from "../../src/exchange/bag.ts";
import { writePackage } from "../../src/exchange/package-place.ts";
import { amendEntry } from "../../src/lab/amendments.ts";
import { importBand } from "../../src/lab/bands.ts";
import { addCalibration } from "../../src/lab/calibrations.ts";
import { confirmLimitSet } from "../../src/lab/confirm-limit-set.ts";
import { addCustodyEvent } from "../../src/lab/custody.ts";
import { passGate } from "../../src/lab/gate.ts";
import { openJob } from "../../src/lab/jobs.ts";
import { makePackage } from "../../src/lab/make-package.ts";
import { publisher, withheldText } from "../../src/lab/make-package-published-copy.ts";
import { addPhotograph } from "../../src/lab/photographs.ts";
import { receiveSpecimen } from "../../src/lab/receive-specimen.ts";
import { releaseRecord, reviewRecord } from "../../src/lab/reviews.ts";
import { acceptTimeStamp, requestTimeStamp } from "../../src/lab/time-stamps.ts";
import { verifyPackage } from "../../src/lab/verify-package.ts";
import { toolIsThere } from "../system/asfound.ts";
import { at200, measuringLab, shoot } from "./measuring-lab.ts";
import { jpegWithPlaces } from "./pictures.ts";
import { TimeStampAuthority } from "./time-stamp-authority.ts";

/** Each secret is a word that nothing else holds, so that one look for the stem finds every one of them. */
const stem = "Zqvxkw";
const planted = new Set<string>();
const plant = (what: string): string => {
  const text = `${stem}${what}`;
  planted.add(text);
  return text;
};
const lowerCase = (what: string): string => {
  const text = `${stem}${what}`.toLowerCase();
  planted.add(text);
  return text;
};

const folder = mkdtempSync(join(tmpdir(), "asfound-published-"));
let place: ReturnType<typeof measuringLab>;
let specimen: string;
let sealed: PackageFiles;
let published: PackageFiles;
let authority: TimeStampAuthority;

/** A specimen of which everything that can be entered was entered, with a secret wherever a name or free words can stand. */
async function wholeRecord(): Promise<void> {
  const { lab } = place;
  const by = plant("Clerk");
  const [job, panel, seal] = [plant("Street"), plant("Panel"), plant("Seal")];
  openJob(
    lab,
    {
      ...{ job, site: plant("Site"), on: "2026-06-14", removedBy: plant("Remover"), by },
      ...{ authority: plant("Letter"), circumstances: plant("Fire"), panels: [panel] },
      clientReference: plant("Reference"),
    },
    "job",
  );
  const [makeCode, typeCode] = [plant("Make"), plant("Type")];
  const details = {
    ...{
      label: plant("Label"),
      ratedAmps: 20,
      poles: 1 as const,
      volts: 120,
      job,
      panel,
      makeCode,
      typeCode,
    },
    ...{
      circuit: plant("Circuit"),
      dateCode: plant("Date"),
      condition: plant("Sooty"),
      notes: plant("Notes"),
    },
  };
  specimen = receiveSpecimen(lab, details);
  const about = { kind: "specimen", id: specimen } as const;
  const custody = (event: string, from: string, to: string, observedAt: string, more: object = {}) =>
    addCustodyEvent(lab, { about, event, from, to, observedAt, by, ...more }, "event");
  custody("receipt", plant("Electrician"), plant("Reception"), "2026-06-10T08:00:00Z", {
    seals: [{ number: seal, condition: "intact" }],
    condition: plant("Bag"),
    note: plant("Remark"),
  });
  custody("storage", plant("Porter"), plant("Locker"), "2026-06-13T08:00:07Z", {
    observedUntil: "2026-06-13T20:00:00Z",
  });
  custody("transfer", plant("Locker"), plant("Store"), "2026-06-13T10:00:00Z");
  custody("transfer", plant("Locker"), plant("Bench"), "2026-06-14T10:00:00Z", {
    seals: [{ number: seal, condition: "broken" }],
  });
  const told = { about, shows: "as received", by, note: plant("Picture") };
  addPhotograph(lab, jpegWithPlaces(), { ...told, name: `${plant("Front")}.jpg` }, "front");
  passGate(
    lab,
    specimen,
    {
      checks: [{ check: plant("Check"), found: plant("Found") }],
      parties: [{ party: plant("Insurer"), notifiedOn: "2026-06-13", answer: plant("Answer") }],
      present: [plant("Witness")],
      authority: { by: plant("Owner"), on: "2026-06-13", words: plant("Permission") },
      skipped: [{ item: "programmeLocked", reason: plant("Reason") }],
      ...{ by, note: plant("Gate") },
    },
    "gate",
  );
  const certificate = (serial: string) =>
    addCalibration(
      lab,
      {
        ...{ instrument: "shunt", serial, quantity: "current", certificate: plant("Certificate") },
        ...{ issuer: plant("Issuer"), on: "2026-06-01", due: "2027-06-01", expandedPercent: 0.5, k: 2 },
      },
      "certificate",
    );
  certificate(plant("Serial"));
  confirmLimitSet(lab, at200.limitSet, {
    ...{ document: "the standard", edition: "1st", by: plant("Reader"), note: plant("Compared") },
  });
  importBand(
    lab,
    place.file(
      "band.csv",
      "edge,multiple,seconds\nminimum,1.5,60\nminimum,3,10\nmaximum,1.5,400\nmaximum,3,100\n",
    ),
    {
      ...{ id: lowerCase("band"), title: plant("Title"), makeCode, typeCode },
      source: {
        ...{ document: plant("Catalogue"), edition: "2nd", clause: plant("Figure") },
        ...{ note: plant("Traced"), standing: "read in the document" },
      },
    },
  );
  await shoot(lab, at200, "sound", details);
  const [received] = lab.store.ledger.entries({ kind: "specimen-received" });
  amendEntry(
    lab,
    {
      ...{ entry: received?.sequence, path: "/details/condition", before: details.condition },
      ...{ after: plant("Cracked"), why: plant("Why"), by },
    },
    "amendment",
  );
  reviewRecord(lab, { about, finding: "accepted", by: plant("Reviewer"), note: plant("Finding") }, "review");
  releaseRecord(lab, { about, by: `${stem}Reviewer`, note: plant("Release") }, "release");
}

const bytesOf = (files: PackageFiles, path: string): Buffer => Buffer.from(files.get(path) ?? []);

/** Every form in which the bytes of a package can hold a text: as they are, in either order of UTF-16, and what the PDF shows and stores. */
function textsOf(files: PackageFiles): [path: string, forms: string[]][] {
  const pdf = join(folder, "searched.pdf");
  writeFileSync(pdf, bytesOf(files, "data/exhibit.pdf"));
  const run = (tool: string, ...args: string[]) => execFileSync(tool, args, { maxBuffer: 1e9 });
  const parts: [string, Buffer][] = [
    ...[...files].map(([path, bytes]): [string, Buffer] => [path, Buffer.from(bytes)]),
    ["text of the exhibit", run("pdftotext", pdf, "-")],
    ["objects of the exhibit", run("qpdf", "--qdf", "--object-streams=disable", pdf, "-")],
  ];
  return parts.map(([path, bytes]) => {
    const text = bytes.toString("latin1");
    const hex = [...text.matchAll(/<([0-9a-fA-F\s]+)>/g)].map((one) =>
      Buffer.from((one[1] ?? "").replace(/\s/g, ""), "hex"),
    );
    // A text of two bytes a character has a zero before each letter, and a line may end inside a word.
    const joined = (one: string): string => one.replace(/[\0\s]/g, "");
    return [path, [path, text, joined(text), joined(Buffer.concat(hex).toString("latin1"))]];
  });
}

const placesOf = (texts: ReturnType<typeof textsOf>, secret: RegExp): string[] =>
  texts.flatMap(([path, forms]) => (forms.some((form) => secret.test(form)) ? [path] : []));

const recordsOf = (files: PackageFiles): LedgerEntry[] =>
  [...files.keys()]
    .filter((path) => path.startsWith("data/records/"))
    .map((path) => JSON.parse(bytesOf(files, path).toString()) as LedgerEntry);

beforeAll(async () => {
  place = measuringLab(plant("Lab"));
  await wholeRecord();
  authority = new TimeStampAuthority(folder);
  acceptTimeStamp(place.lab, authority.answer(requestTimeStamp(place.lab).request), "answer");
  sealed = await makePackage(place.lab, { specimen });
  published = await makePackage(place.lab, { specimen }, { publish: true });
}, 120_000);
afterAll(() => {
  place.remove();
  rmSync(folder, { recursive: true, force: true });
});

const check = (files: PackageFiles) => {
  const to = mkdtempSync(join(folder, "checked-"));
  writePackage(join(to, "package"), files);
  return verifyPackage(join(to, "package"));
};

describe.runIf(["pdftotext", "qpdf", "openssl", "python3"].every(toolIsThere))("a published package", () => {
  it("holds, and its reading and verdict follow from the band as it is published", () => {
    expect(check(published)).toMatchObject({ ok: true, problems: [], published: true, derived: 1 });
    const closed = recordsOf(published).find(
      ({ kind }) => kind === "shot-closed",
    ) as LedgerEntry<"shot-closed">;
    expect(closed.body.verdict.limitSet).toMatch(/^band-[0-9a-f]{10}$/);
    expect(closed.body.verdict.reasons.join(" ")).toMatch(
      /limit is that of document-[0-9a-f]{10}, 2nd, clause-[0-9a-f]{10}: read in the document.*Judged by the published band band-[0-9a-f]{10};/,
    );
  });

  it("holds no secret in any byte of any file, each of which the sealed one holds", () => {
    const [open, whole] = [textsOf(published), textsOf(sealed)];
    expect(placesOf(open, new RegExp(stem, "i"))).toEqual([]);
    const { lab } = place;
    const [opened] = lab.store.ledger.entries({ kind: "shot-opened" });
    const serial = new RegExp(opened?.body.rig.serial ?? "no serial");
    expect(placesOf(open, serial)).toEqual([]);
    for (const secret of [serial, ...[...planted].map((text) => new RegExp(text, "i"))])
      expect(placesOf(whole, secret), String(secret)).not.toEqual([]);
    // The search sees into the document: what it shows, and the words of its figures.
    expect(placesOf(whole, new RegExp(stem, "i"))).toEqual(
      expect.arrayContaining(["text of the exhibit", "objects of the exhibit"]),
    );
  });

  it("lists all that differs from the sealed records, and nothing that does not", () => {
    const rows = bytesOf(published, "data/WITHHELD.csv").toString().trim().split(/\r?\n/).slice(1);
    const listed = new Map<string, string>(
      rows.map((row) => {
        const [sequence, , field, what] = row.split(",");
        return [`${sequence} ${field}`, what ?? ""];
      }),
    );
    const differing = new Set<string>();
    const compare = (whole: unknown, copy: unknown, at: string): void => {
      if (JSON.stringify(whole) === JSON.stringify(copy)) return;
      const within = [...listed.keys()].find((one) => at === one);
      if (within !== undefined || typeof whole !== "object" || whole === null || typeof copy !== "object") {
        differing.add(at);
        return;
      }
      for (const [name, inner] of Object.entries(whole)) {
        const next = Array.isArray(whole) ? at : at.endsWith(" ") ? `${at}${name}` : `${at}.${name}`;
        compare(inner, (copy as Record<string, unknown> | null)?.[name], next);
      }
    };
    const copies = recordsOf(published);
    for (const [i, whole] of recordsOf(sealed).entries()) compare(whole, copies[i], `${whole.sequence} `);
    expect([...differing].filter((one) => !listed.has(one))).toEqual([]);
    expect(differing.size).toBeGreaterThan(40);
    // Empty texts are left out too, so that the list does not tell which were.
    for (const [field, what] of listed) expect(differing.has(field), `${field}: ${what}`).toBe(true);
  });

  it("tells of gaps, overlaps and seals by kind, time in the chain, and codes", () => {
    const text = execFileSync("pdftotext", ["-layout", "-", "-"], {
      input: bytesOf(published, "data/exhibit.pdf"),
      encoding: "utf8",
    }).replace(/\s+/g, " ");
    const [person, seal] = ["person-[0-9a-f]{10}", "seal-[0-9a-f]{10}"];
    for (const words of [
      `From the first event to 3 d 00:00:07 after the first event nothing says how it came from ${person} \\(receipt \\(entry \\d+\\)\\) to ${person}`,
      `has it with ${person} until 3 d 12:00:00 after the first event, transfer \\(entry \\d+\\) has it with ${person} from 3 d 02:00:00 after the first event: two holders`,
      `${person} hands it over in transfer \\(entry \\d+\\) at 4 d 02:00:00 after the first event, although ${person} had given it away`,
      `Seal ${seal} is broken in transfer`,
    ])
      expect(text).toMatch(new RegExp(words));
    expect(text).not.toMatch(/2026-06-1[034]/);
    // The codes are those of the table, so that a reader can tell who is meant.
    const [receipt] = recordsOf(published).filter(
      ({ kind }) => kind === "custody-moved",
    ) as LedgerEntry<"custody-moved">[];
    expect(text).toContain(`how it came from ${receipt?.body.to} (receipt`);
    expect(text).toContain(`Seal ${receipt?.body.seals[0]?.number} is broken`);
  });

  it("is checked up to the authority's stamp by common tools, as its own text tells", () => {
    const bag = join(folder, "bag");
    writePackage(bag, published);
    const guide = bytesOf(published, "data/HOW-TO-CHECK.txt").toString();
    const command = /^ {2}(openssl ts -verify .*) ROOT\.pem$/m.exec(guide)?.[1];
    const run = (line: string) => execFileSync("sh", ["-c", `${line} 2>&1`], { cwd: bag, encoding: "utf8" });
    expect(run(`${command} ${authority.root}`)).toContain("Verification: OK");
    const shown = /^ {2}(openssl ts -reply .*)$/m.exec(guide)?.[1];
    expect(run(shown ?? "false")).toContain("Invented time stamp authority");
    const lines = [
      /^import glob[\s\S]*?stands in the ledger"\)$/m,
      /^for name in .*time-stamps[\s\S]*?was stamped"\)$/m,
    ];
    const script = lines.map((one) => one.exec(guide)?.[0]).join("\n");
    const records = recordsOf(published);
    const said = execFileSync("python3", ["-c", script], { cwd: bag, encoding: "utf8" }).trim().split("\n");
    // Every record but the stamp itself was there when the ledger was stamped.
    expect(said).toHaveLength(records.length + records.length - 1);
    const stamped = records.find(({ kind }) => kind === "time-stamped");
    expect(said.filter((one) => one.endsWith("was stamped"))).toHaveLength(
      (stamped?.sequence ?? 0) > 0 ? records.length - 1 : 0,
    );
  });

  it("is found changed where a file of the stamp is changed, missing, or one too many", () => {
    const paths = [...published.keys()].filter((path) => path.startsWith("data/time-stamps/"));
    expect(paths.map((path) => path.replace(/^.*\d{6}/, "")).sort()).toEqual([
      "-proofs.json",
      ".tsr",
      ".txt",
    ]);
    const problems = (change: (files: PackageFiles) => void): string => {
      const files = new Map(published);
      change(files);
      const found = check(files);
      expect(found.ok).toBe(false);
      // What is found beyond the lists of hashes, which anyone but the station's key could make anew.
      return found.problems.filter((one) => !/manifest|Oxum/i.test(one)).join("\n");
    };
    for (const path of paths) {
      const whole = bytesOf(published, path);
      for (const at of [0, whole.length >> 1, whole.length - 1]) {
        const bad = Buffer.from(whole);
        bad[at] = (bad[at] ?? 0) ^ 1;
        expect(
          problems((files) => files.set(path, bad)),
          `${path} at ${at}`,
        ).toContain("data/time-stamps/");
      }
      expect(
        problems((files) => files.delete(path)),
        path,
      ).toContain("data/time-stamps/");
    }
    const more = "data/time-stamps/999999.txt";
    expect(problems((files) => files.set(more, Buffer.of(1)))).toContain(`${more} is named by no record`);
  });

  it("leaves an answer out, and lists it, where the authority goes by a name that is withheld", async () => {
    const own = join(folder, "own");
    mkdirSync(own);
    const named = new TimeStampAuthority(own, `Stamps of ${stem}Clerk`);
    const lab = { ...place.lab };
    // A stamp covers the records only where it is the first after them: one more record comes before it.
    addCustodyEvent(
      lab,
      {
        ...{ about: { kind: "specimen", id: specimen }, event: "storage", by: `${stem}Clerk` },
        ...{ from: `${stem}Bench`, to: `${stem}Locker`, observedAt: "2026-06-14T12:00:00Z" },
      },
      "event",
    );
    acceptTimeStamp(lab, named.answer(requestTimeStamp(lab).request), "answer");
    const files = await makePackage(lab, { specimen }, { publish: true });
    expect(placesOf(textsOf(files), new RegExp(stem, "i"))).toEqual([]);
    expect([...files.keys()].filter((path) => path.includes("time-stamps"))).toEqual([]);
    const stamp = recordsOf(files).find(({ kind }) => kind === "time-stamped") as LedgerEntry<"time-stamped">;
    expect(stamp.body.response).toBe(withheldText);
    expect(bytesOf(files, "data/WITHHELD.csv").toString()).toContain(
      `${stamp.sequence},time-stamped,body.response,left out`,
    );
    expect(bytesOf(files, "data/HOW-TO-CHECK.txt").toString()).toContain(
      "There is no stamp in this package.",
    );
    expect(check(files)).toMatchObject({ ok: true, problems: [] });
  }, 60_000);
});

describe("a published copy of an entry", () => {
  const entryOf = <K extends EntryKind>(kind: K, body: LedgerEntry<K>["body"]): LedgerEntry =>
    ({
      ...{ sequence: 2, station: "7K2M", at: "2026-06-15T12:00:00.000Z", actor: "clerk", kind, body },
      ...{ previous: "", hash: "", signature: "" },
    }) as LedgerEntry;
  const key = "00".repeat(32);

  it("has a study whole, which anyone can read where it was published", () => {
    const study = {
      ...{
        study: "Invented 1999",
        year: 1999,
        stratum: "all",
        criterion: "no trip",
        multiple: 2,
        tested: 10,
      },
      ...{
        failed: 3,
        selection: "at random" as const,
        riskOfBias: { sampling: "low" as const },
        citation: "p. 7",
      },
    };
    const entry = entryOf("study-recorded", { study, fileHash: "ab".repeat(32) });
    expect(publisher(key, [entry]).entry(entry).body).toEqual(entry.body);
  });

  const name = fc.stringMatching(/^[A-Za-z]{8,16}$/);
  it("has a band whose edges are whole and whose names are keyed, whatever they are", () => {
    fc.assert(
      fc.property(fc.uniqueArray(name, { minLength: 7, maxLength: 7 }), (names) => {
        const [id = "", title = "", document = "", clause = "", note = "", makeCode = "", typeCode = ""] =
          names;
        const edges = {
          minimum: [
            [1, 9],
            [2, 3],
          ] as const,
          maximum: [
            [1, 99],
            [2, 33],
          ] as const,
        };
        const band = {
          ...{ id: id.toLowerCase(), title, current: "multiple" as const, ...edges },
          source: {
            document,
            edition: null,
            clause,
            standing: "read in the document" as const,
            doubtful: false,
            note,
          },
        };
        const entry = entryOf("band-added", { band, makeCode, typeCode, tableHash: "ab".repeat(32) });
        const { body } = publisher(key, [entry]).entry(entry) as LedgerEntry<"band-added">;
        expect(body.band).toMatchObject(edges);
        expect(body.makeCode).toMatch(/^makeCode-[0-9a-f]{10}$/);
        for (const one of [...names, band.id]) expect(JSON.stringify(body)).not.toContain(`"${one}`);
      }),
    );
  });

  it("leaves out a kind and a field that nobody has thought of, and lists them", () => {
    const entry = entryOf("handle-moved", {
      specimen: "7K2M-S0001",
      operations: 1,
      note: "x",
      secret: null,
    } as never);
    const all = publisher(key, [entry]);
    expect(all.entry(entry).body).toEqual({ specimen: "7K2M-S0001", operations: 1, note: withheldText });
    expect(all.withheld()).toContainEqual({
      sequence: 2,
      kind: "handle-moved",
      field: "body.secret",
      what: "left out",
    });
  });
});
