import { existsSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { largestPhotographBytes } from "../../src/contract/photograph-schema.ts";
import {
  addPhotograph,
  photographFile,
  photographViews,
  readPhotographFile,
} from "../../src/lab/photographs.ts";
import { pictureForm } from "../../src/lab/photographs-form.ts";
import { leftOutOfCopy, publishedCopy } from "../../src/lab/photographs-published-copy.ts";
import { receiveSpecimen } from "../../src/lab/receive-specimen.ts";
import { verifyStore } from "../../src/store/verify-store.ts";
import { measuringLab, specimen } from "./measuring-lab.ts";
import { jpeg, jpegWithPlaces, png, pngWithPlaces, progressiveJpeg, secret } from "./pictures.ts";

let place: ReturnType<typeof measuringLab>;
let id = "";
beforeEach(() => {
  place = measuringLab();
  id = receiveSpecimen(place.lab, specimen);
});
afterEach(() => place.remove());

const told = (more: object = {}) => ({
  ...{ about: { kind: "specimen", id }, name: "front.jpg", shows: "as received", by: "N. N." },
  ...more,
});
const add = (bytes: Uint8Array, more: object = {}) =>
  addPhotograph(place.lab, bytes, told(more), "front.jpg");
const folder = () => join(place.lab.store.dataDir, "photographs");
const holds = (bytes: Uint8Array, text: string) => Buffer.from(bytes).includes(text);

describe("a photograph", () => {
  it("is kept bit for bit under its hash and listed with who added it", () => {
    const bytes = jpegWithPlaces();
    const { record, by } = add(bytes, { takenAt: "2026-06-15T11:00:00+02:00", note: "front" });
    expect(record).toMatchObject({ mediaType: "image/jpeg", width: 40, height: 24, bytes: bytes.length });
    expect(record.takenAt).toBe("2026-06-15T09:00:00.000Z");
    expect(by).toBe("N. N.");
    expect(readdirSync(folder())).toEqual([record.photograph]);
    expect(readFileSync(join(folder(), record.photograph)).equals(bytes)).toBe(true);
    const listed = photographViews(place.lab, { kind: "specimen", id });
    expect(listed.map((one) => one.record)).toEqual([record]);
    expect(photographFile(place.lab, record.photograph, { publish: false }).bytes).toEqual(
      new Uint8Array(readFileSync(join(folder(), record.photograph))).length > 0 ? Buffer.from(bytes) : null,
    );
    expect(verifyStore(place.lab.store.dataDir).problems).toEqual([]);
  });

  it("is published without anything but the picture, and the original keeps it all", () => {
    const { record } = add(jpegWithPlaces());
    const { bytes } = photographFile(place.lab, record.photograph, { publish: true });
    expect(holds(bytes, secret)).toBe(false);
    expect(holds(photographFile(place.lab, record.photograph, { publish: false }).bytes, secret)).toBe(true);
  });

  it.each<[string, (folder: string, name: string) => void, string]>([
    ["missing", (at, name) => rmSync(join(at, name)), "is missing"],
    ["swapped", (at, name) => writeFileSync(join(at, name), png), "was swapped or altered"],
    [
      "altered by one bit",
      (at, name) => {
        const bytes = readFileSync(join(at, name));
        bytes[300] = (bytes[300] ?? 0) ^ 1;
        writeFileSync(join(at, name), bytes);
      },
      "its bytes have another SHA-256",
    ],
    ["moved away", (at, name) => renameSync(join(at, name), join(at, `${name}.jpg`)), "is missing"],
  ])("that was %s is named when the store is verified, and not given out", (_, harm, words) => {
    const { record, sequence } = add(jpeg);
    harm(folder(), record.photograph);
    const { ok, problems } = verifyStore(place.lab.store.dataDir);
    expect(ok).toBe(false);
    expect(problems).toHaveLength(1);
    expect(problems[0]).toContain(
      `photograph ${record.photograph} ${words.startsWith("is") ? words : ""}`.trim(),
    );
    expect(problems[0]).toContain(words);
    expect(problems[0]).toContain(`entry ${sequence} added it as front.jpg`);
    expect(() => photographFile(place.lab, record.photograph, { publish: false })).toThrow(record.photograph);
  });
});

describe("a published copy", () => {
  it.each([
    ["baseline JPEG", jpegWithPlaces(), ["E1", "FE", "E0"]],
    ["progressive JPEG", jpegWithPlaces(progressiveJpeg), ["E1", "FE", "E0"]],
    ["PNG", pngWithPlaces(), ["eXIf", "tEXt", "tIME"]],
  ])(
    "of a %s is a picture of the same size with none of the metadata, and is its own copy",
    (_, bytes, left) => {
      expect(holds(bytes, secret)).toBe(true);
      expect(leftOutOfCopy(bytes, "x")).toEqual(expect.arrayContaining(left));
      const copy = publishedCopy(bytes, "x");
      expect(holds(copy, secret)).toBe(false);
      const { width, height, extra } = pictureForm(copy, "x");
      expect([width, height, extra]).toEqual([40, 24, 0]);
      expect(leftOutOfCopy(copy, "x")).toEqual([]);
      expect(publishedCopy(copy, "x")).toEqual(copy);
    },
  );
});

describe("what is no picture is refused, and nothing is stored", () => {
  it.each<[string, Uint8Array, string]>([
    ["nothing", new Uint8Array(), "is empty"],
    ["text", Buffer.from("front of the breaker"), "as neither PNG nor JPEG"],
    ["a page that claims to be a picture", Buffer.from("<svg onload='x'/>"), "as neither PNG nor JPEG"],
    ["the first bytes of a JPEG alone", jpeg.subarray(0, 4), "begins as a JPEG and is none"],
    ["a JPEG cut off", jpeg.subarray(0, 900), "its scan at byte"],
    ["a PNG cut off", png.subarray(0, 140), "cut off"],
    [
      "a PNG with a flipped bit",
      png.map((byte, at) => (at === 20 ? byte ^ 1 : byte)),
      "checksum of its chunk IHDR",
    ],
    [
      "an archive behind the first bytes of a PNG",
      Buffer.concat([png.subarray(0, 8), Buffer.from("PK\u0003\u0004 a zip of files")]),
      "begins no chunk",
    ],
    [
      "a file that is too large",
      new Uint8Array(largestPhotographBytes + 1),
      `accepted are ${largestPhotographBytes}`,
    ],
  ])("%s", (_, bytes, words) => {
    const { sequence } = place.lab.store.ledger.head();
    expect(() => add(bytes)).toThrow(words);
    expect(place.lab.store.ledger.head().sequence).toBe(sequence);
    expect(existsSync(folder())).toBe(false);
  });

  it("whatever is done to a picture's bytes, it is read as a picture or refused in words", () => {
    const sources = [jpegWithPlaces(), pngWithPlaces()];
    fc.assert(
      fc.property(fc.nat(1), fc.nat(), fc.nat(255), fc.nat(), (which, at, value, cut) => {
        const source = sources[which] ?? png;
        const bytes = source.slice(0, source.length - (cut % 3 === 0 ? cut % source.length : 0));
        bytes[at % bytes.length] = value;
        try {
          expect(pictureForm(publishedCopy(bytes, "x"), "x").extra).toBe(0);
        } catch (error) {
          expect((error as Error).name).toBe("InputError");
        }
      }),
      { numRuns: 300 },
    );
  });

  it.each<[string, object, string]>([
    ["a name with a path", { name: "../../etc/passwd.jpg" }, "name must match pattern"],
    ["a name with a backslash", { name: "a\\b.jpg" }, "without / and \\"],
    ["an unknown specimen", { about: { kind: "specimen", id: "none" } }, 'no specimen "none"'],
    ["an unknown job", { about: { kind: "job", id: "none" } }, 'no job "none"'],
    ["nobody", { by: " " }, "by must match pattern"],
    ["a day that does not exist", { takenAt: "2026-02-30T10:00:00Z" }, "there is no moment 2026-02-30"],
    ["a time ahead", { takenAt: "2027-02-20T10:00:00Z" }, "lies ahead"],
  ])("%s", (_, more, words) => {
    expect(() => add(jpeg, more)).toThrow(words);
    expect(existsSync(folder())).toBe(false);
  });

  it("the same photograph of the same specimen, once more", () => {
    const { sequence } = add(jpeg);
    expect(() => add(jpeg)).toThrow(`by entry ${sequence}`);
    expect(photographViews(place.lab)).toHaveLength(1);
  });

  it("a file that is not there, a folder, a hash that is none", () => {
    expect(() => readPhotographFile(join(place.folder, "none.jpg"))).toThrow("there is no such file");
    expect(() => readPhotographFile(place.folder)).toThrow("is not a file");
    expect(() => photographFile(place.lab, "../asfound.sqlite", { publish: false })).toThrow("no photograph");
    expect(() => place.lab.store.photographs.read("../asfound.sqlite")).toThrow("64 lower-case");
  });
});
