import { createHash } from "node:crypto";
import { pathProblem } from "./safe-path.ts";

/** Files by path, as they lie in a package; directories are not files. */
export type PackageFiles = Map<string, Uint8Array>;

const declaration = "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n";
const manifest = "manifest-sha256.txt";
const tagManifest = "tagmanifest-sha256.txt";

/** SHA-256 of bytes, 64 lower-case hex digits, by the platform: payloads are large. */
export const sha256OfBytes = (bytes: Uint8Array): string => createHash("sha256").update(bytes).digest("hex");

const utf8 = (text: string): Uint8Array => Buffer.from(text, "utf8");

/** `<hash>  <path>` a line, in order of path: what `sha256sum -c` reads. */
function manifestOf(files: PackageFiles): string {
  return [...files]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([path, bytes]) => `${sha256OfBytes(bytes)}  ${path}\n`)
    .join("");
}

/**
 * Lines of bag-info.txt. `Payload-Oxum` (bytes, a dot, files) is worked out from the payload.
 *
 * @throws RangeError for a label or value that would break the line
 */
function bagInfo(payload: PackageFiles, info: readonly (readonly [string, string])[]): string {
  const bytes = [...payload.values()].reduce((sum, one) => sum + one.length, 0);
  const lines = [...info, ["Payload-Oxum", `${bytes}.${payload.size}`] as const];
  for (const [label, value] of lines)
    if (!/^[A-Za-z-]+$/.test(label) || /[\r\n]/.test(value))
      throw new RangeError(`bag-info cannot hold ${JSON.stringify(label)}: ${JSON.stringify(value)}`);
  return lines.map(([label, value]) => `${label}: ${value}\n`).join("");
}

/**
 * A bag around a payload: the payload under `data/`, with bagit.txt, bag-info.txt, manifest and tag manifest. There is no
 * fetch.txt: all of it is here.
 *
 * Source: RFC 8493 (2018), sections 2.1 and 2.2. Checked with its layout, see tests/exchange/bag.test.ts.
 *
 * @param payload files by path below `data/`
 * @param extraTags makes further tag files from the manifest's text, such as a signature over it
 * @throws RangeError for paths that are not safe on every system
 */
export function makeBag(
  payload: PackageFiles,
  info: readonly (readonly [string, string])[],
  extraTags: (manifestText: string) => PackageFiles = () => new Map(),
): PackageFiles {
  const data: PackageFiles = new Map([...payload].map(([path, bytes]) => [`data/${path}`, bytes]));
  for (const path of data.keys()) {
    const problem = pathProblem(path);
    if (problem !== null) throw new RangeError(problem);
  }
  const manifestText = manifestOf(data);
  const tags: PackageFiles = new Map([
    ["bagit.txt", utf8(declaration)],
    ["bag-info.txt", utf8(bagInfo(payload, info))],
    [manifest, utf8(manifestText)],
    ...extraTags(manifestText),
  ]);
  return new Map([...data, ...tags, [tagManifest, utf8(manifestOf(tags))]]);
}

/**
 * Whether a bag is complete and valid, and holds nothing else; in sentences, the first thing that differs first. Stricter than
 * RFC 8493 where it leaves a choice: one manifest of each kind, in order of path, no fetch.txt, no file outside `data/` that the
 * tag manifest does not name.
 *
 * Source: RFC 8493 (2018), section 3 (complete and valid).
 *
 * @param extraTags names of further tag files that belong to it
 */
export function bagProblems(files: PackageFiles, extraTags: readonly string[] = []): string[] {
  const problems = [...files.keys()].flatMap((path) => pathProblem(path) ?? []);
  const tags = ["bagit.txt", "bag-info.txt", manifest, ...extraTags];
  for (const path of [...tags, tagManifest]) if (!files.has(path)) problems.push(`${path} is missing`);
  if (files.has("fetch.txt"))
    problems.push("there is a fetch.txt: a package holds all of its files, and fetches none");
  for (const path of files.keys())
    if (!path.startsWith("data/") && path !== tagManifest && path !== "fetch.txt" && !tags.includes(path))
      problems.push(`${path} does not belong to the package`);
  if (problems.length > 0) return problems;
  const chosen = (wanted: (path: string) => boolean): PackageFiles =>
    new Map([...files].filter(([path]) => wanted(path)));
  problems.push(
    ...manifestProblems(
      files,
      manifest,
      chosen((path) => path.startsWith("data/")),
    ),
    ...manifestProblems(
      files,
      tagManifest,
      chosen((path) => tags.includes(path)),
    ),
  );
  if (textOf(files, "bagit.txt") !== declaration)
    problems.push(`bagit.txt is not the declaration of BagIt 1.0 in UTF-8`);
  const payload = [...files].filter(([path]) => path.startsWith("data/"));
  const oxum = `${payload.reduce((sum, [, bytes]) => sum + bytes.length, 0)}.${payload.length}`;
  const stated = /^Payload-Oxum: (.*)$/m.exec(textOf(files, "bag-info.txt"))?.[1];
  if (stated !== oxum)
    problems.push(`bag-info.txt says Payload-Oxum ${stated ?? "nothing"}; the payload has ${oxum}`);
  return problems;
}

const textOf = (files: PackageFiles, path: string): string =>
  Buffer.from(files.get(path) ?? new Uint8Array()).toString("utf8");

/** Compares a manifest with the files that it must list: each listed, each with its hash, and nothing else. */
function manifestProblems(files: PackageFiles, name: string, covered: PackageFiles): string[] {
  const text = textOf(files, name);
  if (text === manifestOf(covered)) return [];
  const problems: string[] = [];
  const listed = new Map<string, string>();
  for (const [at, line] of text.split("\n").entries()) {
    if (line === "") continue;
    const parts = /^([0-9a-f]{64}) {2}(.+)$/.exec(line);
    if (parts === null) problems.push(`${name}, line ${at + 1}: not a SHA-256, two blanks and a path`);
    else if (listed.has(parts[2] ?? ""))
      problems.push(`${name}, line ${at + 1}: ${parts[2]} is listed twice`);
    else listed.set(parts[2] ?? "", parts[1] ?? "");
  }
  for (const [path, hash] of listed) {
    const bytes = covered.get(path);
    if (bytes === undefined) problems.push(`${path} is listed in ${name} and missing`);
    else if (sha256OfBytes(bytes) !== hash)
      problems.push(`${path} was altered: its SHA-256 is ${sha256OfBytes(bytes)}, ${name} says ${hash}`);
  }
  for (const path of covered.keys())
    if (!listed.has(path)) problems.push(`${path} is there but not listed in ${name}`);
  // Same lines in another order or with other line ends.
  if (problems.length === 0) problems.push(`${name} was altered: it is not as it was written`);
  return problems;
}
