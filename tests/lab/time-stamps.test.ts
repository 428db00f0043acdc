import { createHash } from "node:crypto";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { growingTree, merkleRoot } from "../../src/core/evidence/merkle-tree.ts";
import { timeStampRequest } from "../../src/exchange/time-stamp-request.ts";
import { readTimeStampResponse } from "../../src/exchange/time-stamp-response.ts";
import type { Lab } from "../../src/lab/lab.ts";
import { openLab } from "../../src/lab/open-lab.ts";
import { receiveSpecimen } from "../../src/lab/receive-specimen.ts";
import {
  acceptTimeStamp,
  requestTimeStamp,
  stampProblem,
  stampViews,
  timeStampProblems,
} from "../../src/lab/time-stamps.ts";
import { verifyData } from "../../src/lab/verify-data.ts";
import { toolIsThere } from "../system/asfound.ts";
import { TimeStampAuthority } from "./time-stamp-authority.ts";

const hexOf = (bytes: Uint8Array) => Buffer.from(bytes).toString("hex");

describe("a time stamp request", () => {
  const abc = createHash("sha256").update("abc").digest();

  // Made with `openssl ts -query` (OpenSSL 3) for SHA-256("abc") without a nonce; form of RFC 3161 (2001), section 2.4.1.
  it("has the bytes that openssl makes, with and without asking for the certificate", () => {
    expect(hexOf(timeStampRequest(abc, null, { certificate: false }))).toBe(
      "30360201013031300d060960864801650304020105000420ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad",
    );
    expect(hexOf(timeStampRequest(abc, null))).toBe(
      "30390201013031300d060960864801650304020105000420ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad0101ff",
    );
  });

  it("refuses what is no SHA-256 and no positive nonce", () => {
    expect(() => timeStampRequest(abc.subarray(1), null)).toThrow("imprint of 32 bytes but found 31");
    for (const bad of [[], [0, 1], [128]])
      expect(() => timeStampRequest(abc, Uint8Array.from(bad))).toThrow("expected a nonce");
  });
});

describe("a growing tree", () => {
  it("has at every size the root of the whole list", () => {
    fc.assert(
      fc.property(fc.array(fc.uint8Array({ maxLength: 4 }), { maxLength: 40 }), (items) => {
        const tree = growingTree();
        items.forEach((item, at) => {
          tree.add(item);
          expect(tree.root()).toBe(merkleRoot(items.slice(0, at + 1)));
        });
      }),
      { numRuns: 30 },
    );
    expect(growingTree().root()).toBe(merkleRoot([]));
  });
});

describe.runIf(toolIsThere("openssl"))("time stamps of a ledger", () => {
  const folder = mkdtempSync(join(tmpdir(), "asfound-stamps-"));
  let authority: TimeStampAuthority;
  let lab: Lab;
  beforeAll(() => {
    authority = new TimeStampAuthority(folder);
    lab = openLab(join(folder, "data"));
  });
  afterAll(() => {
    lab.store.close();
    rmSync(folder, { recursive: true, force: true });
  });

  it("asks for what openssl reads: SHA-256 of the statement, a nonce, the certificate", () => {
    const { request, text, imprint } = requestTimeStamp(lab);
    expect(createHash("sha256").update(text).digest("hex")).toBe(imprint);
    writeFileSync(join(folder, "ours.tsq"), request);
    const words = authority.openssl("ts", "-query", "-in", "ours.tsq", "-text");
    expect(words).toMatch(/Hash Algorithm: sha256/);
    expect(words).toMatch(/Nonce: 0x[4-7]/);
    expect(words).toMatch(/Certificate required: yes/);
    const dump = words.match(/^ {4}[0-9a-f]{4} - .{47}/gm)?.map((line) => line.slice(11)) ?? [];
    expect(dump.join("").replace(/[^0-9a-f]/g, "")).toBe(imprint);
  });

  it("asks for the same bytes until something is entered", () => {
    const first = requestTimeStamp(lab).request;
    expect(hexOf(requestTimeStamp(lab).request)).toBe(hexOf(first));
    receiveSpecimen(lab, { label: "A-1", ratedAmps: 20, poles: 1, volts: 120 });
    expect(hexOf(requestTimeStamp(lab).request)).not.toBe(hexOf(first));
  });

  it("stores an answer that came after more was entered, and the answer verifies with openssl", () => {
    const asked = requestTimeStamp(lab);
    const answer = authority.answer(asked.request);
    receiveSpecimen(lab, { label: "A-2", ratedAmps: 20, poles: 1, volts: 120 });
    const view = acceptTimeStamp(lab, answer, "answer.tsr");
    expect(view).toMatchObject({ entries: asked.entries, head: asked.head, imprint: asked.imprint });
    expect(view.authority).toContain("Invented time stamp authority");
    expect(view.remarks).toEqual([]);
    expect(stampViews(lab)).toEqual([view]);
    writeFileSync(join(folder, "statement.txt"), asked.text);
    const check = ["ts", "-verify", "-data", "statement.txt", "-in", "answer.tsr", "-CAfile", "root.pem"];
    expect(authority.openssl(...check)).toContain("Verification: OK");
    writeFileSync(join(folder, "statement.txt"), asked.text.replace("entries", "entry"));
    expect(() => authority.openssl(...check)).toThrow();
    expect(() => acceptTimeStamp(lab, answer, "answer.tsr")).toThrow("is stored already, by entry");
    expect(timeStampProblems(lab)).toEqual([]);
    expect(verifyData(lab.store.dataDir)).toMatchObject({ ok: true, problems: [] });
  });

  it("refuses answers to other questions, and what is no answer, and stores nothing then", () => {
    const { request, imprint } = requestTimeStamp(lab);
    const before = lab.store.ledger.head();
    const other = authority.answer(timeStampRequest(createHash("sha256").update("x").digest(), null));
    const plain = authority.answer(timeStampRequest(Buffer.from(imprint, "hex"), null));
    const replayed = authority.answer(timeStampRequest(Buffer.from(imprint, "hex"), Uint8Array.of(1, 2)));
    const bare = authority.answer(
      timeStampRequest(Buffer.from(imprint, "hex"), null, { certificate: false }),
    );
    const accept = (bytes: Uint8Array) => () => acceptTimeStamp(lab, bytes, "FILE");
    expect(accept(other)).toThrow("which is no statement of this ledger");
    expect(accept(plain)).toThrow("its nonce is missing");
    expect(accept(replayed)).toThrow("its nonce is 0102");
    expect(accept(bare)).toThrow("it holds no certificate");
    expect(accept(request)).toThrow("FILE: it is no time stamp response in DER");
    expect(accept(new Uint8Array())).toThrow("it is no time stamp response in DER");
    expect(accept(new Uint8Array(100_001))).toThrow("accepted are up to 100000");
    // RFC 3161, section 2.4.2: status 2 is a rejection.
    expect(accept(Uint8Array.of(0x30, 5, 0x30, 3, 2, 1, 2))).toThrow("did not grant it (status 2)");
    expect(lab.store.ledger.head()).toEqual(before);
  });

  it("finds every changed bit of what was stamped, of the digest and of the signature", () => {
    const answer = authority.answer(requestTimeStamp(lab).request);
    const reading = readTimeStampResponse(answer);
    if (!reading.ok) throw new Error(reading.problem);
    const bytes = Buffer.from(answer);
    const imprint = bytes.indexOf(Buffer.from(reading.stamp.imprint, "hex"));
    const digest = bytes.indexOf(Buffer.from("06092a864886f70d010904", "hex")) + 15;
    for (const at of [imprint, imprint + 31, imprint + 40, digest, digest + 31, bytes.length - 1]) {
      const changed = Buffer.from(bytes);
      changed[at] = (changed[at] ?? 0) ^ 1;
      const found = readTimeStampResponse(changed);
      expect(found.ok ? found.stamp : found.problem, `byte ${at}`).toMatch(
        /altered|not made by a certificate|no time stamp/,
      );
    }
  });

  it("names a stored stamp that does not belong where it stands", () => {
    const [first] = lab.store.ledger.entries({ kind: "time-stamped" });
    if (first === undefined) throw new Error("a stamp was stored above");
    const { head, imprint } = first.body;
    expect(stampProblem(first.body, { head, imprint })).toBeNull();
    expect(stampProblem(first.body, undefined)).toContain("there is no earlier entry");
    expect(stampProblem(first.body, { head: "0".repeat(64), imprint })).toContain(`not ${head}`);
    expect(stampProblem(first.body, { head, imprint: "0".repeat(64) })).toContain("has the SHA-256 0000");
    expect(stampProblem({ ...first.body, time: "2001-01-01T00:00:00.000Z" }, { head, imprint })).toContain(
      "its entry says 2001",
    );
    lab.store.ledger.append("time-stamped", { ...first.body, entries: 1 }, { actor: "forger" });
    expect(verifyData(lab.store.dataDir).problems).toEqual([
      expect.stringMatching(/^the time stamp of entry \d+: entry 1 is [0-9a-f]{64}, not/),
    ]);
  });
});
