import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { PackageFiles } from "../../src/exchange/bag.ts";
import { writePackage } from "../../src/exchange/package-place.ts";
import { addCustodyEvent } from "../../src/lab/custody.ts";
import { makeExhibit } from "../../src/lab/make-exhibit.ts";
import { makePackage } from "../../src/lab/make-package.ts";
import { giveRoles, signIn } from "../../src/lab/people.ts";
import { verifyPackage } from "../../src/lab/verify-package.ts";
import { toolIsThere } from "../system/asfound.ts";
import { HandledLab, invented } from "./handled-lab.ts";

const person = "Ada Rivers";
const password = "correct horse battery";
const folder = mkdtempSync(join(tmpdir(), "asfound-signed-"));
let place: HandledLab;
let sequence: number;

beforeAll(async () => {
  place = new HandledLab();
  await giveRoles(
    place.lab,
    { person, password, roles: ["administrator", "operator"], by: person },
    "people",
  );
  // Somebody whom the record does not name: such a sign-in does not belong to it.
  await giveRoles(place.lab, { person: "Ben Hollis", password, roles: ["viewer"], by: person }, "people");
  await signIn(place.lab, { person: "Ben Hollis", password }, "sign-in");
  ({ sequence } = (await signIn(place.lab, { person, password }, "sign-in")) ?? { sequence: 0 });
  addCustodyEvent(
    { ...place.lab, actor: person, signIn: sequence },
    {
      ...{ about: { kind: "specimen", id: place.specimen }, event: "return", by: person },
      ...{ from: "bench", to: "the owner", observedAt: "2026-06-15T08:16:00Z" },
    },
    "event",
  );
});
afterAll(() => {
  place.remove();
  rmSync(folder, { recursive: true, force: true });
});

const records = (files: PackageFiles) =>
  [...files]
    .filter(([path]) => path.startsWith("data/records/") && path.endsWith(".json"))
    .map(([, bytes]) => JSON.parse(Buffer.from(bytes).toString()));

describe.runIf(toolIsThere("pdftotext"))("an exhibit of what was entered under a sign-in", () => {
  it("says who was signed in, and whose name was only typed", async () => {
    const { pdf } = await makeExhibit(place.lab, { specimen: place.specimen });
    const text = execFileSync("pdftotext", ["-", "-"], { input: pdf, encoding: "utf8" }).replace(/\s+/g, " ");
    expect(text).toContain(`by ${person} (signed in, entry ${sequence})`);
    expect(text).toContain("by clerk (name typed)");
  });

  it.each([false, true])(
    "goes with the sign-in that it names, and with no other (published: %s)",
    async (publish) => {
      const files = await makePackage(place.lab, { job: invented.job }, publish ? { publish } : {});
      const signIns = records(files).filter((one) => one.kind === "signed-in");
      expect(signIns.map((one) => one.sequence)).toEqual([sequence]);
      const signed = records(files).filter((one) => one.signIn !== undefined);
      expect(signed.map((one) => one.signIn)).toEqual([sequence]);
      expect(signIns[0].actor).toBe(signed[0].actor);
      const path = join(folder, String(publish));
      writePackage(path, files);
      expect(verifyPackage(path)).toMatchObject({ ok: true });
      if (publish) for (const [, bytes] of files) expect(Buffer.from(bytes).includes(person)).toBe(false);
    },
  );
});
