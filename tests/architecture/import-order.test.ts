import { readdirSync, readFileSync, statSync } from "node:fs";
import { dirname, join, relative, resolve } from "node:path";
import { describe, expect, it } from "vitest";

const root = resolve(import.meta.dirname, "../..");

/** Lowest first; members of one row are siblings and never meet, unless `allowed` says so. */
const order: readonly (readonly string[])[] = [
  ["src/core/units"],
  [
    "src/core/signal",
    "src/core/limits",
    "src/core/thermal",
    "src/core/stats",
    "src/core/evidence",
    "src/core/specimen",
  ],
  ["src/contract"],
  ["src/store", "src/bench", "src/exchange", "src/exhibit"],
  ["src/lab"],
  ["src/server"],
  ["src/cli"],
];

/** Meetings between siblings, and who may use the wire. `specimen` holds the plain words that its siblings speak in. */
const allowed: Readonly<Record<string, readonly string[]>> = {
  "src/core/limits": ["src/core/stats", "src/core/signal", "src/core/specimen"],
  "src/core/thermal": ["src/core/stats"],
  "src/core/signal": ["src/core/specimen"],
};
const wireUsers = ["src/bench", "src/lab"];
const webSees = ["web", "src/contract", "src/core"];

/** Third-party packages and the one folder that may import each. */
const packageHome: Readonly<Record<string, string>> = {
  serialport: "src/bench",
  "@serialport/parser-readline": "src/bench",
  "better-sqlite3": "src/store",
  fastify: "src/server",
  uplot: "web",
  preact: "web",
  commander: "src/cli",
  open: "src/cli",
  pdfkit: "src/exhibit",
  "svg-to-pdfkit": "src/exhibit",
  "d3-scale": "src/exhibit",
  "d3-shape": "src/exhibit",
  qrcode: "src/exhibit",
  "@peculiar": "src/exchange",
  "csv-parse": "src/exchange",
  "csv-stringify": "src/exchange",
  fflate: "src/exchange",
  "@noble/hashes": "src/core",
  "@noble/curves": "src/core",
  "@stdlib": "src/core",
  "simple-statistics": "src/core",
};

type Import = { file: string; target: string };

function folderOf(path: string): string {
  const known = [...order.flat(), "firmware-protocol", "web", "tests", "curves"].sort(
    (a, b) => b.length - a.length,
  );
  return known.find((folder) => path === folder || path.startsWith(`${folder}/`)) ?? "unknown";
}

/** The import directions that `files` break, in words. */
function violations(imports: readonly Import[]): string[] {
  const found: string[] = [];
  for (const { file, target } of imports) {
    const from = folderOf(file);
    if (!target.startsWith(".")) {
      const home = Object.entries(packageHome).find(
        ([name]) => target === name || target.startsWith(`${name}/`),
      );
      if (home !== undefined && !from.startsWith(home[1]))
        found.push(`${file} imports ${target}, which belongs to ${home[1]}`);
      if (from.startsWith("src/core") && target.startsWith("node:"))
        found.push(`${file} imports ${target}; core is pure`);
      if (from === "src/contract" && target.startsWith("node:"))
        found.push(`${file} imports ${target}; contract is pure`);
      continue;
    }
    const path = relative(root, resolve(root, dirname(file), target));
    const to = folderOf(path);
    if (to === "unknown" || from === "unknown") {
      found.push(`${file} imports ${path}: folder not in the plan`);
      continue;
    }
    const name = path.split("/").at(-1) ?? "";
    if (name.startsWith("_") && dirname(path) !== dirname(file))
      found.push(`${file} imports the private file ${path}`);
    if (name === "index.ts") found.push(`${file} imports ${path}: no barrels`);
    if (from === to) continue;
    if (from === "web") {
      if (!webSees.some((folder) => to.startsWith(folder)))
        found.push(`${file} imports ${path}: the page sees contract and core only`);
      continue;
    }
    if (from === "firmware-protocol") {
      found.push(`${file} imports ${path}: the wire stands on its own`);
      continue;
    }
    if (to === "firmware-protocol") {
      if (!wireUsers.includes(from)) found.push(`${file} imports ${path}: only bench and lab use the wire`);
      continue;
    }
    const rank = (folder: string) => order.findIndex((row) => row.includes(folder));
    if (rank(from) === -1 || rank(to) === -1) found.push(`${file} imports ${path}: ${to} is not for ${from}`);
    else if (allowed[from]?.includes(to) === true) continue;
    else if (rank(to) >= rank(from)) found.push(`${file} imports ${path}: ${to} is not below ${from}`);
  }
  return found;
}

function sourceFiles(folder: string): string[] {
  return readdirSync(join(root, folder)).flatMap((name) => {
    const path = join(folder, name);
    if (statSync(join(root, path)).isDirectory()) return sourceFiles(path);
    return /\.tsx?$/.test(name) ? [path] : [];
  });
}

const withoutComments = (text: string) =>
  text.replace(/\/\*[\s\S]*?\*\//g, "").replace(/(^|\s)\/\/.*$/gm, "$1");

function importsOf(file: string, text: string): Import[] {
  const pattern = /(?:\bfrom\s*|\bimport\s*\(?\s*)["']([^"']+)["']/g;
  return [...withoutComments(text).matchAll(pattern)].map((match) => ({ file, target: match[1] ?? "" }));
}

const files = ["src", "firmware-protocol", "web"].flatMap(sourceFiles);
const imports = files.flatMap((file) => importsOf(file, readFileSync(join(root, file), "utf8")));

/** Circles among files, each as the path that closes it. */
function circles(all: readonly Import[]): string[] {
  const edges = new Map<string, string[]>();
  for (const { file, target } of all) {
    if (!target.startsWith(".")) continue;
    const to = relative(root, resolve(root, dirname(file), target));
    edges.set(file, [...(edges.get(file) ?? []), to]);
  }
  const done = new Set<string>();
  const found: string[] = [];
  const walk = (node: string, trail: string[]) => {
    const start = trail.indexOf(node);
    if (start !== -1) {
      found.push([...trail.slice(start), node].join(" -> "));
      return;
    }
    if (done.has(node)) return;
    for (const next of edges.get(node) ?? []) walk(next, [...trail, node]);
    done.add(node);
  };
  for (const node of edges.keys()) walk(node, []);
  return found;
}

describe("import directions", () => {
  it("reads the source tree and knows every folder in it", () => {
    expect(files.length).toBeGreaterThan(10);
    const unknown = files.filter((file) => folderOf(file) === "unknown");
    expect(unknown).toEqual([]);
  });

  it("holds in every file", () => {
    expect(violations(imports)).toEqual([]);
  });

  it("has no circle", () => {
    expect(circles(imports)).toEqual([]);
  });

  it.each([
    ["src/core/signal/a.ts", "../../store/b.ts", "not below"],
    ["src/core/signal/a.ts", "node:fs", "core is pure"],
    ["src/store/a.ts", "../bench/b.ts", "not below"],
    ["src/bench/a.ts", "../lab/b.ts", "not below"],
    ["src/server/a.ts", "../../firmware-protocol/b.ts", "only bench and lab"],
    ["firmware-protocol/a.ts", "../src/core/units/b.ts", "stands on its own"],
    ["src/lab/a.ts", "better-sqlite3", "belongs to src/store"],
    ["web/a.ts", "../src/store/b.ts", "contract and core only"],
    ["src/lab/a.ts", "../store/_b.ts", "private file"],
    ["src/lab/a.ts", "../store/index.ts", "no barrels"],
    ["src/lab/a.ts", "../elsewhere/b.ts", "not in the plan"],
    ["src/core/evidence/a.ts", "../thermal/b.ts", "not below"],
  ])("finds a planted fault: %s importing %s", (file, target, words) => {
    expect(violations([{ file, target }]).join()).toContain(words);
  });

  it("finds a planted circle", () => {
    expect(
      circles([
        { file: "src/lab/a.ts", target: "./b.ts" },
        { file: "src/lab/b.ts", target: "./a.ts" },
      ]),
    ).toHaveLength(1);
  });

  it("reads imports of every shape", () => {
    const text = `import a from "./a.ts";\nimport "./b.ts";\nconst c = await import("./c.ts");\nexport { d } from './d.ts'; // from "./e.ts"`;
    expect(importsOf("x.ts", text).map((one) => one.target)).toEqual([
      "./a.ts",
      "./b.ts",
      "./c.ts",
      "./d.ts",
    ]);
  });
});
