import { execFileSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { asfound, tool, toolIsThere, workplace } from "./asfound.ts";
import { part2Faults } from "./part-2-faults.ts";
import { type PdfDictionary, type PdfJson, pdfObjects, writePdf } from "./pdf-objects.ts";
import { faultsOf, permittedInPart2, preflight, preflightIsThere } from "./preflight.ts";

// Letters that no font of ours has, a tab and signs of XML: what people type must not make a document invalid.
const job = "9 Invented Street 漢字\t& <b>";
const place = workplace({ label: "KS-1 漢", ratedAmps: 20, poles: 1, volts: 120, job });
const at = (name: string): string => join(place.folder, name);
const label = ["--specimen", "KS-1 漢"];
const kinds: readonly [string, string[]][] = [
  ["specimen", ["exhibit", ...label, "--label", "Exhibit 漢", "--case", "A v. B", "--bates", "AF"]],
  ["job", ["exhibit", "--job", job]],
  ["rates", ["exhibit", "--rates", "--by", "poles", "job", "--point", "2"]],
  ["letter", ["letter", "--job", job, "--to", "Mrs 漢"]],
  ["labels", ["labels", ...label]],
];
const faults = (file: string): string[] => part2Faults(pdfObjects(file), pdfObjects(file, "raw"));

beforeAll(async () => {
  const shot = await asfound([
    ...["shoot", "--link", "emulated?breaker=never-trips&speed=20000&seed=3", "--data", place.data],
    ...["--specimen", place.specimenFile, "--point", "2", "--json"],
  ]);
  expect(shot.code, shot.stdout + shot.stderr).toBe(0);
  for (const [name, args] of kinds) {
    const made = await asfound([...args, "--data", place.data, "--out", at(`${name}.pdf`), "--json"]);
    expect(made.code, made.stdout + made.stderr).toBe(0);
  }
}, 120_000);
afterAll(() => place.remove());

const withPreflight = preflightIsThere();
const withQpdf = ["qpdf", "pdftotext"].every(toolIsThere);

describe.runIf(withPreflight)("an independent validator", () => {
  it.each(kinds)("finds nothing in %s but what PDF/A-2b permits", (name) => {
    const findings = preflight(at(`${name}.pdf`));
    expect(faultsOf(findings)).toEqual([]);
    // Each permission is made use of, so that one which is no longer needed is not kept.
    for (const { code } of permittedInPart2) expect(findings.map((one) => one.code)).toContain(code);
  });
});

describe.runIf(withQpdf)("the objects of a document", () => {
  it.each(kinds)("of %s hold what PDF/A-2b demands", (name) => {
    expect(faults(at(`${name}.pdf`))).toEqual([]);
  });

  it("name a letter that no font has by its number, and lose none", () => {
    for (const name of ["specimen", "letter", "labels"])
      expect(tool("pdftotext", [at(`${name}.pdf`), "-"]), name).toContain("[U+6F22]");
  });
});

/** The one dictionary in which `has` holds, to plant a fault in. */
function dictionaryWith(objects: PdfJson, has: (dict: PdfDictionary) => boolean): PdfDictionary {
  const found = Object.values(objects.qpdf[1])
    .map((one) => one.stream?.dict ?? one.value)
    .filter((one): one is PdfDictionary => typeof one === "object" && one !== null && !Array.isArray(one))
    .find(has);
  if (found === undefined) throw new Error("nothing to plant a fault in");
  return found;
}

/** Faults by name: how each is planted, what our own check says, and the code of the validator where it must see it too. */
const planted: readonly [string, (objects: PdfJson) => void, RegExp, RegExp | null][] = [
  [
    "a font that is not embedded",
    (objects) => delete dictionaryWith(objects, (one) => "/FontFile2" in one)["/FontFile2"],
    /6\.2\.11\.4\.1/,
    /^3\.1/,
  ],
  [
    "a font without widths",
    (objects) => delete dictionaryWith(objects, (one) => "/W" in one)["/W"],
    /6\.2\.11\.5/,
    null,
  ],
  [
    "no output intent",
    (objects) => delete dictionaryWith(objects, (one) => "/OutputIntents" in one)["/OutputIntents"],
    /6\.2\.3/,
    /^2\./,
  ],
  [
    "a script on opening",
    (objects) => {
      const root = dictionaryWith(objects, (one) => one["/Type"] === "/Catalog");
      root["/OpenAction"] = { "/S": "/JavaScript", "/JS": "u:1" };
    },
    /6\.5\.1/,
    /^6\.2/,
  ],
  [
    "a transfer function",
    (objects) => {
      const page = dictionaryWith(objects, (one) => one["/Type"] === "/Page");
      const resources = objects.qpdf[1][`obj:${page["/Resources"]}`]?.value as PdfDictionary;
      resources["/ExtGState"] = { "/Gs9": { "/Type": "/ExtGState", "/TR": "/Identity" } };
    },
    /6\.2\.5/,
    /^2\./,
  ],
  [
    "another title in Info",
    (objects) => {
      const info = dictionaryWith(objects, (one) => "/CreationDate" in one);
      info["/Title"] = "u:Another";
    },
    /6\.6\.3: \/Title is Another/,
    /^7\./,
  ],
  [
    "no structure",
    (objects) => delete dictionaryWith(objects, (one) => "/StructTreeRoot" in one)["/StructTreeRoot"],
    /no structure tree/,
    null,
  ],
  [
    "a letter without a glyph",
    (objects) => {
      const page = dictionaryWith(objects, (one) => one["/Type"] === "/Page");
      const stream = objects.qpdf[1][`obj:${page["/Contents"]}`]?.stream;
      if (stream === undefined) throw new Error("the page has no content");
      const content = Buffer.from(stream.data, "base64").toString("latin1");
      stream.data = Buffer.from(content.replace("[<0001", "[<0000"), "latin1").toString("base64");
    },
    /6\.2\.11\.8/,
    null,
  ],
];

describe.runIf(withQpdf && withPreflight)("the checks themselves", () => {
  it.each(planted)("see %s", (name, plant, ours, theirs) => {
    const objects = pdfObjects(at("labels.pdf"));
    plant(objects);
    const file = at(`${name}.pdf`);
    writePdf(objects, file);
    expect(faults(file).join("\n")).toMatch(ours);
    if (theirs !== null)
      expect(faultsOf(preflight(file)).map((one) => one.code)).toContainEqual(expect.stringMatching(theirs));
  });

  it("see nothing in a file that only went through the same hands", () => {
    writePdf(pdfObjects(at("labels.pdf")), at("untouched.pdf"));
    expect(faults(at("untouched.pdf"))).toEqual([]);
    expect(faultsOf(preflight(at("untouched.pdf")))).toEqual([]);
  });

  it("see XMP that claims no part, and another part", () => {
    const bytes = readFileSync(at("labels.pdf"), "latin1");
    for (const claim of ["", "<pdfaid:part>3</pdfaid:part>"]) {
      const other = bytes.replace("<pdfaid:part>2</pdfaid:part>", claim.padEnd(28));
      expect(other).not.toBe(bytes);
      writeFileSync(at("claim.pdf"), other, "latin1");
      expect(faults(at("claim.pdf")).join("\n")).toContain("6.6.4: XMP does not claim part 2");
    }
  });

  it("see encryption", () => {
    execFileSync("qpdf", ["--encrypt", "", "owner", "256", "--", at("labels.pdf"), at("closed.pdf")]);
    expect(faultsOf(preflight(at("closed.pdf"))).length).toBeGreaterThan(0);
  });

  it("see compression with LZW", () => {
    const raw = pdfObjects(at("labels.pdf"), "raw");
    dictionaryWith(raw, (one) => one["/Filter"] === "/FlateDecode")["/Filter"] = "/LZWDecode";
    expect(part2Faults(pdfObjects(at("labels.pdf")), raw).join("\n")).toContain("compressed with LZW");
  });
});
