import type { EntryBodies, LedgerEntry } from "../contract/ledger-entries.ts";
import { canonicalJson } from "../core/evidence/canonical-json.ts";
import { bytesOfHex } from "../core/evidence/hex-bytes.ts";
import { entryHash, genesisHash } from "../core/evidence/ledger-chain.ts";
import { verifyInclusion } from "../core/evidence/merkle-tree.ts";
import { parseStrictJson } from "../core/evidence/parse-strict-json.ts";
import { sha256Hex } from "../core/evidence/sha256-hex.ts";
import { stationId } from "../core/evidence/station-id.ts";
import { bagProblems, type PackageFiles, sha256OfBytes } from "../exchange/bag.ts";
import { readPackage } from "../exchange/package-place.ts";
import { verifyFast } from "../store/station-key.ts";
import { deriveShot } from "./derive-shot.ts";
import { publicKeyPem } from "./make-package.ts";
import { photographFileProblems, stampFileProblems } from "./make-package-attachments.ts";
import { bagInfoOf, manifestSignatureName, type PackageFacts, treeHeadText } from "./make-package-layout.ts";
import { blocksInFile, samplesCsv, signalInBlocks } from "./make-package-samples.ts";

/** What a check of a package found. */
export interface PackageCheck {
  ok: boolean;
  /** Whole sentences, the first thing that differs first. */
  problems: string[];
  /** Null where the package does not say it. */
  station: string | null;
  publicKey: string | null;
  head: string | null;
  published: boolean | null;
  records: number;
  /** Shots whose reading and verdict were derived again. */
  derived: number;
}

/**
 * Checks everything in a package: that its files are those that were listed, that the station signed the list, that each record
 * has its hash and its signature, follows the one before where that is there too, and stands in the signed tree, that samples
 * have the hash that the record states, and that readings and verdicts follow from them.
 *
 * @param options `key`: public key known from elsewhere, `head`: hash of the newest entry known from elsewhere. Without the key
 * a package made anew under another key cannot be noticed.
 * @throws Error where there is nothing at the place
 */
export function verifyPackage(place: string, options: { key?: string; head?: string } = {}): PackageCheck {
  const check: PackageCheck = {
    ok: false,
    problems: [],
    station: null,
    publicKey: null,
    head: null,
    published: null,
    records: 0,
    derived: 0,
  };
  const read = readPackage(place);
  if (!read.ok) return { ...check, problems: [read.problem] };
  check.problems.push(...bagProblems(read.files, [manifestSignatureName]));
  // What a damaged package says of itself is still looked at, so that a second fault is not hidden by the first.
  const facts = factsIn(read.files);
  if (typeof facts === "string") check.problems.push(facts);
  else {
    check.station = facts.station;
    check.publicKey = facts.publicKey;
    check.head = facts.head.hash;
    check.published = facts.published;
    if (options.key !== undefined && options.key !== facts.publicKey)
      check.problems.push(`the package is signed by ${facts.publicKey}; the key known is ${options.key}`);
    if (options.head !== undefined && options.head !== facts.head.hash)
      check.problems.push(
        `the package states the head ${facts.head.hash}; the head known is ${options.head}`,
      );
    try {
      checkContent(read.files, facts, check);
    } catch (error) {
      check.problems.push(`the package cannot be checked further: ${(error as Error).message}`);
    }
  }
  check.ok = check.problems.length === 0;
  return check;
}

const textOf = (files: PackageFiles, path: string): string =>
  Buffer.from(files.get(path) ?? new Uint8Array()).toString("utf8");

function isText(value: unknown): value is string {
  return typeof value === "string";
}

/** The facts in package.json, or what is wrong with it. */
function factsIn(files: PackageFiles): PackageFacts | string {
  const text = textOf(files, "data/package.json");
  const parsed = parseStrictJson(text);
  if (!parsed.ok) return `data/package.json: ${parsed.problem}`;
  const facts = parsed.value as Partial<PackageFacts> | null;
  const subject = facts?.subject as Readonly<Record<string, unknown>> | undefined;
  if (
    facts?.format !== "asfound-package-1" ||
    !isText(facts.program) ||
    !isText(facts.station) ||
    !isText(facts.publicKey) ||
    bytesOfHex(facts.publicKey, 32) === null ||
    !isText(facts.root) ||
    !isText(facts.asOf) ||
    typeof facts.published !== "boolean" ||
    !Number.isSafeInteger(facts.head?.sequence) ||
    !isText(facts.head?.hash) ||
    !(isText(subject?.specimen) || isText(subject?.job)) ||
    !Array.isArray(facts.shots) ||
    !facts.shots.every(isText)
  )
    return "data/package.json does not say what a package of format asfound-package-1 says";
  if (canonicalJson(facts) !== text) return "data/package.json is not in canonical form";
  return facts as PackageFacts;
}

function checkContent(files: PackageFiles, facts: PackageFacts, check: PackageCheck): void {
  const tell = (problem: string): void => {
    check.problems.push(problem);
  };
  const signed = (path: string, signature: string): boolean =>
    verifyFast(
      files.get(path) ?? new Uint8Array(),
      Buffer.from(files.get(signature) ?? new Uint8Array()).toString("hex"),
      facts.publicKey,
    );
  if (stationId(facts.publicKey) !== facts.station)
    tell(`the station is ${facts.station}; the key makes ${stationId(facts.publicKey)}`);
  if (textOf(files, "data/station-key.pem") !== publicKeyPem(facts.publicKey))
    tell(`data/station-key.pem does not hold the key ${facts.publicKey}`);
  if (!signed("manifest-sha256.txt", manifestSignatureName))
    tell(`${manifestSignatureName} is no signature of the station over manifest-sha256.txt`);
  if (textOf(files, "data/tree-head.txt") !== treeHeadText(facts.head.sequence, facts.root))
    tell("data/tree-head.txt does not state the entries and the root that package.json states");
  if (!signed("data/tree-head.txt", "data/tree-head.sig"))
    tell("data/tree-head.sig is no signature of the station over data/tree-head.txt");
  const info = bagInfoOf(facts).map(([label, value]) => `${label}: ${value}\n`);
  if (!textOf(files, "bag-info.txt").startsWith(`${info.join("")}Payload-Oxum: `))
    tell("bag-info.txt does not say what follows from package.json");

  const records = recordsIn(files, facts, tell);
  check.records = records.length;
  const opened = new Map<string, EntryBodies["shot-opened"]>();
  for (const entry of records)
    if (entry.kind === "shot-opened") {
      const body = entry.body as EntryBodies["shot-opened"];
      opened.set(body.shot, body);
    }
  const derived = new Set<string>();
  for (const entry of records) {
    if (entry.kind !== "shot-closed") continue;
    const body = entry.body as EntryBodies["shot-closed"];
    const problem = shotProblem(files, opened.get(body.shot), body);
    if (problem === null) derived.add(body.shot);
    else tell(problem);
  }
  for (const shot of facts.shots)
    if (!records.some((one) => one.kind === "shot-closed" && (one.body as { shot?: string }).shot === shot))
      tell(`the record that closed shot ${shot} is missing`);
  check.derived = derived.size;
  limitProblems(files, [...opened.values()]).forEach(tell);
  photographFileProblems(files, records, facts.published).forEach(tell);
  stampFileProblems(files, records, facts).forEach(tell);
}

/** The records that hold, in order; for each that does not, the first thing that is wrong with it is told. */
function recordsIn(files: PackageFiles, facts: PackageFacts, tell: (problem: string) => void): LedgerEntry[] {
  const found: LedgerEntry[] = [];
  for (const path of [...files.keys()].filter((one) => one.startsWith("data/records/")).sort()) {
    const parsed = parseStrictJson(textOf(files, path));
    const entry = (parsed.ok ? parsed.value : null) as LedgerEntry | null;
    const problem = !parsed.ok ? `${path}: ${parsed.problem}` : recordProblem(files, facts, path, entry);
    if (problem !== null || entry === null) {
      tell(problem ?? `${path} is not a record`);
      continue;
    }
    const before = found.at(-1);
    const previous =
      entry.sequence === 1 ? genesisHash : before?.sequence === entry.sequence - 1 ? before.hash : null;
    if (previous !== null && entry.previous !== previous)
      tell(`${path} follows ${entry.previous}, but the record before has the hash ${previous}`);
    found.push(entry);
  }
  const [first] = found;
  if (first?.kind !== "station-opened") tell("the first record of the ledger, station-opened, is missing");
  else if ((first.body as EntryBodies["station-opened"]).publicKey !== facts.publicKey)
    tell("the first record names another key than package.json");
  const newest = found.find((one) => one.sequence === facts.head.sequence);
  if (newest !== undefined && newest.hash !== facts.head.hash)
    tell(`the newest record has the hash ${newest.hash}; package.json states the head ${facts.head.hash}`);
  return found;
}

function recordProblem(
  files: PackageFiles,
  facts: PackageFacts,
  path: string,
  entry: LedgerEntry | null,
): string | null {
  if (typeof entry !== "object" || entry === null || !Number.isSafeInteger(entry.sequence))
    return `${path} is not a record`;
  const name = String(entry.sequence).padStart(6, "0");
  if (path !== `data/records/${name}.json`) return `${path} holds record ${entry.sequence}`;
  if (canonicalJson(entry) !== textOf(files, path)) return `${path} is not in canonical form`;
  if (entry.station !== facts.station) return `${path} is of station ${entry.station}, not ${facts.station}`;
  if (!facts.published && entryHash(entry) !== entry.hash)
    return `${path} was altered: its content hashes to ${entryHash(entry)}, but it says ${entry.hash}`;
  const hash = bytesOfHex(entry.hash, 32);
  if (hash === null || !verifyFast(hash, entry.signature, facts.publicKey))
    return `${path} has a signature that the station's key did not make`;
  const proof = parseStrictJson(textOf(files, `data/proofs/${name}.json`));
  if (!proof.ok) return `data/proofs/${name}.json: ${proof.problem}`;
  const { size, path: steps } = (proof.value ?? {}) as { size?: unknown; path?: unknown };
  if (size !== facts.head.sequence || !Array.isArray(steps) || !steps.every(isText))
    return `data/proofs/${name}.json is not a path in a tree of ${facts.head.sequence} entries`;
  return verifyInclusion(hash, entry.sequence - 1, facts.head.sequence, steps, facts.root)
    ? null
    : `data/proofs/${name}.json does not lead from record ${entry.sequence} to the signed root`;
}

function shotProblem(
  files: PackageFiles,
  opened: EntryBodies["shot-opened"] | undefined,
  closed: EntryBodies["shot-closed"],
): string | null {
  const path = `data/blocks/${closed.shot}.bin`;
  if (opened === undefined) return `the record that opened shot ${closed.shot} is missing`;
  const bytes = files.get(path);
  if (bytes === undefined) return `${path} is missing`;
  if (sha256OfBytes(bytes) !== closed.samplesHash)
    return `${path} has the SHA-256 ${sha256OfBytes(bytes)}; the record of shot ${closed.shot} says ${closed.samplesHash}`;
  const blocks = blocksInFile(bytes);
  const { signal, samples } = signalInBlocks(blocks);
  if (blocks.length !== closed.blocks || samples !== closed.samples)
    return `${path} holds ${samples} samples in ${blocks.length} blocks; the record says ${closed.samples} in ${closed.blocks}`;
  const csv = `data/samples/${closed.shot}.csv`;
  if (textOf(files, csv) !== samplesCsv(signal.runs)) return `${csv} does not hold the samples of ${path}`;
  const again = deriveShot(opened, closed, signal);
  for (const part of ["reading", "verdict"] as const)
    if (canonicalJson(again[part]) !== canonicalJson(closed[part]))
      return `the ${part} of shot ${closed.shot} does not follow from its samples`;
  return null;
}

function limitProblems(files: PackageFiles, opened: readonly EntryBodies["shot-opened"][]): string[] {
  const known = new Set(opened.map((one) => `${one.limitSet} ${one.limitSetHash}`));
  return [...files.keys()].flatMap((path) => {
    const id = /^data\/limits\/(.+)\.json$/.exec(path)?.[1];
    if (id === undefined) return [];
    const hash = sha256Hex(textOf(files, path));
    return known.has(`${id} ${hash}`) ? [] : [`${path} has the SHA-256 ${hash}, which no test was judged by`];
  });
}
