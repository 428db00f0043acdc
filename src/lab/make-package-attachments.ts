import type { EntryBodies, LedgerEntry } from "../contract/ledger-entries.ts";
import { canonicalJson } from "../core/evidence/canonical-json.ts";
import { type HeadInStatement, readHeadStatement } from "../core/evidence/head-statement.ts";
import { bytesOfHex } from "../core/evidence/hex-bytes.ts";
import { inclusionProof, verifyInclusion } from "../core/evidence/merkle-tree.ts";
import { parseStrictJson } from "../core/evidence/parse-strict-json.ts";
import { sha256Hex } from "../core/evidence/sha256-hex.ts";
import { type PackageFiles, sha256OfBytes } from "../exchange/bag.ts";
import { verifyFast } from "../store/station-key.ts";
import type { Lab } from "./lab.ts";
import { withheldText } from "./make-package-published-copy.ts";
import { photographFile } from "./photographs.ts";
import { statementAt } from "./time-stamp-statement.ts";
import { stampProblem } from "./time-stamps.ts";

type Entry = Pick<LedgerEntry, "kind" | "sequence" | "hash" | "body">;

const numbered = (sequence: number): string => String(sequence).padStart(6, "0");

const photographsIn = (entries: readonly Entry[]): EntryBodies["photograph-added"][] =>
  entries.flatMap(({ kind, body }) =>
    kind === "photograph-added" ? [body as EntryBodies["photograph-added"]] : [],
  );

/** Name of a photograph's file in a package: the hash of the original, and what kind of picture it is. */
export const photographPath = ({
  photograph,
  mediaType,
}: Pick<EntryBodies["photograph-added"], "photograph" | "mediaType">): string =>
  `photographs/${photograph}.${mediaType === "image/png" ? "png" : "jpg"}`;

/**
 * The photographs of a package. Published ones are copies without anything but the picture, under the hash of the original.
 *
 * @throws StoreError where a photograph is missing or was swapped
 */
export function photographFiles(
  lab: Pick<Lab, "store">,
  entries: readonly Entry[],
  publish: boolean,
): Map<string, Uint8Array> {
  return new Map(
    photographsIn(entries).map((record) => [
      photographPath(record),
      photographFile(lab, record.photograph, { publish }).bytes,
    ]),
  );
}

/** What is wrong with the photographs of a package that was read: the files under `data/`, by the records. */
export function photographFileProblems(
  files: PackageFiles,
  records: readonly Entry[],
  published: boolean,
): string[] {
  const wanted = new Map(
    photographsIn(records).map((one) => [`data/${photographPath(one)}`, one.photograph]),
  );
  const problems = [...wanted].flatMap(([path, hash]) => {
    const bytes = files.get(path);
    if (bytes === undefined) return [`${path} is missing`];
    const found = sha256OfBytes(bytes);
    return published || found === hash
      ? []
      : [`${path} has the SHA-256 ${found}; the record of the photograph says ${hash}`];
  });
  const strangers = [...files.keys()].filter(
    (path) => path.startsWith("data/photographs/") && !wanted.has(path),
  );
  return [...problems, ...strangers.map((path) => `${path} is named by no record`)];
}

/**
 * The time stamps of a package: the authority's answer, the statement that it stamps, and for each record that was there then
 * the path to the root in the statement. None of an answer that is withheld.
 */
export function stampFiles(
  lab: Pick<Lab, "store">,
  entries: readonly Entry[],
  leaves: readonly Uint8Array[],
): Map<string, Uint8Array> {
  const files = new Map<string, Uint8Array>();
  for (const { kind, sequence, body } of entries) {
    if (kind !== "time-stamped") continue;
    const stamp = body as EntryBodies["time-stamped"];
    if (stamp.response === withheldText) continue;
    const statement = statementAt(lab, stamp.entries);
    if (statement === null)
      throw new RangeError(`entry ${sequence} stamps entry ${stamp.entries}, which is not there`);
    const then = leaves.slice(0, stamp.entries);
    const paths = Object.fromEntries(
      entries
        .filter((one) => one.sequence <= stamp.entries)
        .map((one) => [numbered(one.sequence), inclusionProof(then, one.sequence - 1)]),
    );
    const name = `time-stamps/${numbered(sequence)}`;
    files.set(`${name}.tsr`, Buffer.from(stamp.response, "base64"));
    files.set(`${name}.txt`, Buffer.from(statement.text, "utf8"));
    files.set(`${name}-proofs.json`, Buffer.from(canonicalJson(paths), "utf8"));
  }
  return files;
}

/** What is wrong with the time stamps of a package that was read. A published copy may withhold an authority's answer. */
export function stampFileProblems(
  files: PackageFiles,
  records: readonly Entry[],
  facts: { station: string; publicKey: string; published: boolean },
): string[] {
  const wanted = new Set<string>();
  const problems = records.flatMap((record) => {
    if (record.kind !== "time-stamped") return [];
    const body = record.body as EntryBodies["time-stamped"];
    if (facts.published && body.response === withheldText) return [];
    const name = `data/time-stamps/${numbered(record.sequence)}`;
    for (const ending of [".tsr", ".txt", "-proofs.json"]) wanted.add(`${name}${ending}`);
    const problem = oneStampProblem(files, records, facts, name, body);
    return problem === null ? [] : [`${name}: ${problem}`];
  });
  const strangers = [...files.keys()].filter(
    (path) => path.startsWith("data/time-stamps/") && !wanted.has(path),
  );
  return [...problems, ...strangers.map((path) => `${path} is named by no record`)];
}

function oneStampProblem(
  files: PackageFiles,
  records: readonly Entry[],
  { station, publicKey }: { station: string; publicKey: string },
  name: string,
  body: EntryBodies["time-stamped"],
): string | null {
  const textIn = (path: string): string => Buffer.from(files.get(path) ?? new Uint8Array()).toString("utf8");
  const text = textIn(`${name}.txt`);
  const stated = readHeadStatement(text);
  if (stated === null || stated.entries !== body.entries || stated.station !== station)
    return "its statement is not that of this ledger at the entry that the record names";
  const response = Buffer.from(files.get(`${name}.tsr`) ?? new Uint8Array()).toString("base64");
  if (response !== body.response) return "the authority's answer is not the one in the record";
  const problem = stampProblem(body, { head: stated.head, imprint: sha256Hex(text) });
  if (problem !== null) return problem;
  const head = bytesOfHex(stated.head, 32);
  if (head === null || !verifyFast(head, stated.signature, publicKey))
    return "the station did not sign the head in its statement";
  return pathsProblem(textIn(`${name}-proofs.json`), records, stated);
}

function pathsProblem(text: string, records: readonly Entry[], stated: HeadInStatement): string | null {
  const parsed = parseStrictJson(text);
  if (!parsed.ok) return `its proofs are ${parsed.problem}`;
  const paths = (parsed.value ?? {}) as Readonly<Record<string, unknown>>;
  for (const { sequence, hash } of records) {
    if (sequence > stated.entries) continue;
    const path = paths[numbered(sequence)];
    const item = bytesOfHex(hash, 32);
    const steps = Array.isArray(path) && path.every((one) => typeof one === "string") ? path : null;
    if (
      item === null ||
      steps === null ||
      !verifyInclusion(item, sequence - 1, stated.entries, steps as string[], stated.root)
    )
      return `record ${sequence} does not lead to the root that was stamped`;
  }
  return null;
}
