import { mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { zipSync } from "fflate";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { readPackage, writePackage } from "../../src/exchange/package-place.ts";
import { pathProblem } from "../../src/exchange/safe-path.ts";
import { unzipFiles, zipFiles } from "../../src/exchange/zip-files.ts";

const bytes = (text: string): Uint8Array => new Uint8Array(Buffer.from(text, "utf8"));
const files = () =>
  new Map([
    ["b.txt", bytes("two")],
    ["data/a.txt", bytes("one ".repeat(1000))],
  ]);
const limits = { files: 3, fileBytes: 5000, totalBytes: 6000 };

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "asfound-place-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

describe("a place of a package", () => {
  it.each(["bag", "bag.zip"])("gives back what was written to %s, and is never written over", (name) => {
    const place = join(folder, name);
    writePackage(place, files());
    const read = readPackage(place);
    expect(
      read.ok && [...read.files].map(([path, one]) => [path, Buffer.from(one).toString()]).sort(),
    ).toEqual([...files()].map(([path, one]) => [path, Buffer.from(one).toString()]).sort());
    expect(() => writePackage(place, files())).toThrow("exists already");
    expect(() => readPackage(`${place}-not`)).toThrow("does not exist");
  });

  it("zips the same files, in any order, to the same bytes", () => {
    expect(Buffer.compare(zipFiles(files()), zipFiles(new Map([...files()].reverse())))).toBe(0);
  });

  it("finds a zip changed wherever one bit of it is flipped", () => {
    const place = join(folder, "bag.zip");
    writePackage(place, files());
    const original = readFileSync(place);
    for (let at = 0; at < original.length; at += 1) {
      const changed = Buffer.from(original);
      changed[at] = (changed[at] ?? 0) ^ 1;
      writeFileSync(place, changed);
      expect(readPackage(place).ok, `at ${at}`).toBe(false);
    }
  });

  it.each([
    ["../x", "leaves its folder"],
    ["a/../../x", "leaves its folder"],
    ["/etc/x", "not relative"],
    ["C:x", "not relative"],
    ["a\\b", "backslash"],
    ["a\nb", "control character"],
    ["data/nul.txt", "not every system"],
  ])("refuses a zip with the path %j", (path, words) => {
    expect(pathProblem(path)).toContain(words);
    const unzipped = unzipFiles(zipSync({ [path]: bytes("x") }));
    expect(!unzipped.ok && unzipped.problem).toContain(words);
  });

  it("refuses too many files, and files that would unpack too large, before it unpacks them", () => {
    const large = unzipFiles(zipSync({ a: new Uint8Array(5001) }), limits);
    expect(!large.ok && large.problem).toContain("would unpack to 5001 bytes");
    const together = unzipFiles(zipSync({ a: new Uint8Array(4000), b: new Uint8Array(4000) }), limits);
    expect(!together.ok && together.problem).toContain("8000 in all");
    const many = unzipFiles(zipSync({ a: bytes(""), b: bytes(""), c: bytes(""), d: bytes("") }), limits);
    expect(!many.ok && many.problem).toContain("more than 3 files");
  });

  it("refuses what is no zip, and links in a folder", () => {
    const none = unzipFiles(bytes("not a zip at all, not a zip at all"));
    expect(!none.ok && none.problem).toContain("not a readable zip");
    mkdirSync(join(folder, "bag"));
    symlinkSync("/etc/hostname", join(folder, "bag", "a"));
    const linked = readPackage(join(folder, "bag"));
    expect(!linked.ok && linked.problem).toContain("a is a link");
  });
});
