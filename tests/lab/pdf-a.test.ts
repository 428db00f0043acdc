import { execFileSync } from "node:child_process";
import { existsSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { makeExhibit } from "../../src/lab/make-exhibit.ts";
import { makeLabels } from "../../src/lab/make-labels.ts";
import { makeLetter } from "../../src/lab/make-letter.ts";
import { makeRatesExhibit } from "../../src/lab/make-rates-exhibit.ts";
import { readRateQuestion } from "../../src/lab/rates-question.ts";
import { toolIsThere } from "../system/asfound.ts";
import { HandledLab, invented } from "./handled-lab.ts";

/** Apache PDFBox Preflight, a general PDF/A-1b validator, as Debian packages it (libpdfbox2-java). */
const jars = [
  "preflight",
  "pdfbox2",
  "xmpbox",
  "fontbox2",
  "commons-logging",
  "javax.activation",
  "jaxb-api",
].map((name) => `/usr/share/java/${name}.jar`);

function validatorIsThere(): boolean {
  const missing = jars.filter((jar) => !existsSync(jar));
  if (missing.length === 0) return ["java", "qpdf"].every(toolIsThere);
  if (process.env.ASFOUND_NO_SKIPS === "1") throw new Error(`${missing.join(", ")} needed and not there`);
  process.stderr.write(`\nSKIPPED for want of ${missing.join(", ")}\n`);
  return false;
}

/**
 * What PDF/A-1b refuses and PDF/A-2b accepts, of all that the validator may find (clauses from memory): the part is 2 (ISO 19005-2, 6.6.4),
 * and the list of glyphs of a subset need not be there, but must be right where it is (6.2.11.4.2).
 */
const acceptedInPart2 = [
  /^7\.11\.2 : Error on MetaData, part must be 1$/,
  /^3\.1\.11 : Invalid Font definition, [A-Z]{6}\+[\w-]+: The CIDSet entry is missing for the Composite Subset$/,
];

const folder = mkdtempSync(join(tmpdir(), "asfound-pdf-a-"));

/** Everything that the validator finds and that part 2 does not accept. */
function findings(name: string, pdf: Uint8Array): string[] {
  const file = join(folder, `${name}.pdf`);
  writeFileSync(file, pdf);
  let told = "";
  try {
    told = execFileSync("java", ["-cp", jars.join(":"), "org.apache.pdfbox.preflight.Validator_A1b", file], {
      encoding: "utf8",
      stdio: "pipe",
    });
  } catch (error) {
    told = (error as { stdout: string }).stdout;
  }
  const lines = told.split("\n").filter((line) => line.trim() !== "");
  // The first line says whether it is valid: it must have looked at the file, and in part 2 it always has something to say.
  expect(lines[0]).toMatch(/is not a valid PDF\/A-1b file, error\(s\)/);
  expect(lines.some((line) => acceptedInPart2[0]?.test(line))).toBe(true);
  return lines.slice(1).filter((line) => !acceptedInPart2.some((accepted) => accepted.test(line)));
}

describe.runIf(validatorIsThere())("documents as PDF/A-2b, by an independent validator", () => {
  let place: HandledLab;
  let documents: Record<string, Uint8Array>;
  beforeAll(async () => {
    place = new HandledLab();
    const { lab, specimen } = place;
    const question = readRateQuestion({ by: "poles" });
    documents = {
      specimen: (await makeExhibit(lab, { specimen }, { label: "Exhibit A", bates: "KS" })).pdf,
      job: (await makeExhibit(lab, { job: invented.job })).pdf,
      rates: (await makeRatesExhibit(lab, question)).pdf,
      letter: (await makeLetter(lab, { job: invented.job }, "the owner")).pdf,
      labels: (await makeLabels(lab, "all")).pdf,
    };
  }, 60_000);
  afterAll(() => {
    place.remove();
    rmSync(folder, { recursive: true, force: true });
  });

  it.each(["specimen", "job", "rates", "letter", "labels"])(
    "%s: nothing is found",
    (name) => {
      expect(findings(name, documents[name] as Uint8Array)).toEqual([]);
    },
    60_000,
  );

  it.each(["specimen", "job", "rates", "letter", "labels"])(
    "%s: part, language and structure are told",
    (name) => {
      const file = join(folder, `${name}-told.pdf`);
      writeFileSync(file, documents[name] as Uint8Array);
      const text = Buffer.from(documents[name] as Uint8Array).toString("latin1");
      expect(text).toContain("<pdfaid:part>2</pdfaid:part>");
      expect(text).toContain("<pdfaid:conformance>B</pdfaid:conformance>");
      const { qpdf } = JSON.parse(
        execFileSync("qpdf", ["--json", file], { encoding: "utf8", maxBuffer: 1e9 }),
      );
      const objects = qpdf[1] as Record<string, { value: Record<string, unknown> }>;
      const trailer = objects.trailer?.value ?? {};
      const at = (reference: unknown) => objects[`obj:${String(reference)}`]?.value ?? {};
      const catalog = at(trailer["/Root"]);
      expect(catalog["/Lang"]).toBe("u:en-US");
      expect(at(catalog["/MarkInfo"])).toMatchObject({ "/Marked": true });
      expect(at(catalog["/StructTreeRoot"])).toMatchObject({ "/Type": "/StructTreeRoot" });
      expect(trailer["/Encrypt"]).toBeUndefined();
    },
  );

  it.each([
    ["an output intent that is missing", "/OutputIntents", "/OutputIntentz"],
    ["metadata that disagree with the document", "<pdf:Producer>", "<pdf:Producer>x"],
    ["a font that is not embedded", "/FontFile2", "/FontFileX"],
    ["another conformance", "<pdfaid:conformance>B<", "<pdfaid:conformance>Z<"],
  ])(
    "finds %s",
    (name, good, bad) => {
      const text = Buffer.from(documents.letter as Uint8Array).toString("latin1");
      expect(text).toContain(good);
      const harmed = text.replaceAll(good, bad);
      const found = findings(name, Buffer.from(harmed, "latin1"));
      expect(found.length).toBeGreaterThan(0);
    },
    60_000,
  );
});
