import { createPublicKey } from "node:crypto";
import { canonicalJson } from "../core/evidence/canonical-json.ts";
import { bytesOfHex } from "../core/evidence/hex-bytes.ts";
import { inclusionProof, merkleRoot } from "../core/evidence/merkle-tree.ts";
import { makeBag, type PackageFiles } from "../exchange/bag.ts";
import { csvText } from "../exchange/csv-text.ts";
import { readStationKey } from "../store/station-key.ts";
import { type Subject, type SubjectRecords, subjectRecords } from "./exhibit-data.ts";
import type { Lab } from "./lab.ts";
import { type ExhibitOptions, exhibitOf, limitSetsOf } from "./make-exhibit.ts";
import { photographFiles, stampFiles } from "./make-package-attachments.ts";
import { howToCheck } from "./make-package-guide.ts";
import { bagInfoOf, manifestSignatureName, type PackageFacts, treeHeadText } from "./make-package-layout.ts";
import { publicationKey, publisher } from "./make-package-published-copy.ts";
import { blockFileBytes, samplesCsv } from "./make-package-samples.ts";
import { programVersion } from "./project-folder.ts";

/** `publish`: names, streets, serial numbers and days are left out or replaced by keyed codes. */
export interface PackageOptions extends ExhibitOptions {
  publish?: boolean;
}

const utf8 = (text: string): Uint8Array => Buffer.from(text, "utf8");

/**
 * Makes the package of a subject, as files by path: a bag that anyone can check with common tools, see make-package-layout.ts.
 * The same ledger and options make the same bytes.
 *
 * @throws NotFoundError or InputError for a subject that is not there; StoreError `key` where the station's key is missing:
 * the package is signed with it
 */
export async function makePackage(
  lab: Lab,
  subject: Subject,
  options: PackageOptions = {},
): Promise<PackageFiles> {
  const records = subjectRecords(lab, subject);
  const key = readStationKey(lab.store.dataDir);
  const publish =
    options.publish === true ? publisher(publicationKey(lab.store.dataDir), records.entries) : null;
  const exhibit = await exhibitOf(lab, records, options, publish);
  const leaves = records.ledgerHashes.map((hash) => bytesOfHex(hash, 32) ?? new Uint8Array());
  const root = merkleRoot(leaves);
  const facts: PackageFacts = {
    format: "asfound-package-1",
    program: programVersion(),
    subject: publish !== null && "job" in subject ? { job: publish.job(subject.job) } : subject,
    published: publish !== null,
    station: records.station.station,
    publicKey: records.station.publicKey,
    head: { sequence: records.head.sequence, hash: records.head.hash },
    root,
    asOf: publish === null ? records.head.at.slice(0, 10) : records.head.at.slice(0, 4),
    shots: records.shots.map((one) => one.record.shot),
  };
  const treeHead = utf8(treeHeadText(facts.head.sequence, root));
  const entries = publish === null ? records.entries : records.entries.map(publish.entry);
  const stamps = stampFiles(lab, entries, leaves);
  const payload: PackageFiles = new Map([
    ["package.json", utf8(canonicalJson(facts))],
    ["HOW-TO-CHECK.txt", utf8(howToCheck(facts, [...stamps.keys()]))],
    ["station-key.pem", utf8(publicKeyPem(facts.publicKey))],
    ["tree-head.txt", treeHead],
    ["tree-head.sig", Buffer.from(key.sign(treeHead), "hex")],
    ["exhibit.pdf", exhibit.pdf],
    ...exhibit.figures.map((one) => [`figures/${one.name}.svg`, utf8(one.svg)] as const),
    ...exhibit.tables.map((one) => [`tables/${one.name}.csv`, utf8(csvText(one))] as const),
    ...limitSetsOf(lab, records).flatMap(({ id, held }) =>
      held === null ? [] : [[`limits/${id}.json`, utf8(canonicalJson(held))] as const],
    ),
  ]);
  for (const entry of entries) {
    const name = String(entry.sequence).padStart(6, "0");
    payload.set(`records/${name}.json`, utf8(canonicalJson(entry)));
    payload.set(
      `proofs/${name}.json`,
      utf8(
        canonicalJson({
          sequence: entry.sequence,
          hash: entry.hash,
          size: leaves.length,
          path: inclusionProof(leaves, entry.sequence - 1),
        }),
      ),
    );
  }
  addSamples(lab, records, payload);
  for (const [path, bytes] of photographFiles(lab, records.entries, publish !== null))
    payload.set(path, bytes);
  for (const [path, bytes] of stamps) payload.set(path, bytes);
  if (publish !== null)
    payload.set(
      "WITHHELD.csv",
      utf8(
        csvText({
          header: ["entry", "kind", "field", "what"],
          rows: publish.withheld().map((one) => [one.sequence, one.kind, one.field, one.what]),
        }),
      ),
    );
  return makeBag(
    payload,
    bagInfoOf(facts),
    (manifest) => new Map([[manifestSignatureName, Buffer.from(key.sign(utf8(manifest)), "hex")]]),
  );
}

function addSamples(lab: Lab, records: SubjectRecords, payload: PackageFiles): void {
  for (const { record } of records.shots) {
    payload.set(`blocks/${record.shot}.bin`, blockFileBytes(lab.store.blocks.stored(record.shot)));
    payload.set(
      `samples/${record.shot}.csv`,
      utf8(samplesCsv(lab.store.blocks.readSignal(record.shot).runs)),
    );
  }
}

/** An Ed25519 key as OpenSSL reads it: SubjectPublicKeyInfo in PEM (RFC 8410). */
export function publicKeyPem(publicKey: string): string {
  const x = Buffer.from(publicKey, "hex").toString("base64url");
  return createPublicKey({ key: { kty: "OKP", crv: "Ed25519", x }, format: "jwk" }).export({
    type: "spki",
    format: "pem",
  }) as string;
}
