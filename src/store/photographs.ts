import { createHash } from "node:crypto";
import {
  closeSync,
  existsSync,
  fsyncSync,
  lstatSync,
  mkdirSync,
  openSync,
  readFileSync,
  readSync,
  renameSync,
  rmSync,
  writeSync,
} from "node:fs";
import { join } from "node:path";
import type Database from "better-sqlite3";
import { entryOf, ledgerRows } from "./ledger-rows.ts";
import { StoreError } from "./store-error.ts";

/** Folder of a data directory that holds photographs, each in a file named by its SHA-256. */
export const photographFolder = "photographs";

/** Photographs as they were received, by the SHA-256 of their bytes. */
export interface Photographs {
  /**
   * Keeps a photograph; on return it has reached the disk. One that is kept already is left as it is.
   *
   * @returns its SHA-256, and whether it was new
   * @throws StoreError `read-only`; `damaged` where another file stands in its place
   */
  keep(bytes: Uint8Array): { photograph: string; isNew: boolean };
  /** Takes back what `keep` has just made, where the entry that was to name it could not be written. */
  takeBack(photograph: string): void;
  /** @throws StoreError `missing` or `damaged` naming the photograph */
  read(photograph: string): Uint8Array;
}

/** The photographs of a data directory. */
export function photographs(dataDir: string, readOnly: boolean): Photographs {
  const folder = join(dataDir, photographFolder);
  const refuseReader = () => {
    if (readOnly) throw new StoreError("read-only", "the store was opened for reading only");
  };
  return {
    keep: (bytes) => {
      refuseReader();
      const photograph = createHash("sha256").update(bytes).digest("hex");
      const path = pathOf(folder, photograph);
      if (existsSync(path)) {
        const problem = fileProblem(folder, photograph, bytes.length);
        if (problem !== null) throw new StoreError("damaged", problem);
        return { photograph, isNew: false };
      }
      mkdirSync(folder, { recursive: true, mode: 0o700 });
      const unfinished = `${path}.new`;
      rmSync(unfinished, { force: true });
      const file = openSync(unfinished, "wx", 0o600);
      try {
        for (let written = 0; written < bytes.length; )
          written += writeSync(file, bytes, written, bytes.length - written);
        fsyncSync(file);
      } catch (error) {
        rmSync(unfinished, { force: true });
        throw error;
      } finally {
        closeSync(file);
      }
      renameSync(unfinished, path);
      syncFolder(folder);
      return { photograph, isNew: true };
    },
    takeBack: (photograph) => {
      refuseReader();
      rmSync(pathOf(folder, photograph), { force: true });
    },
    read: (photograph) => {
      const path = pathOf(folder, photograph);
      if (!existsSync(path)) throw new StoreError("missing", `photograph ${photograph} is missing`);
      const bytes = readFileSync(path);
      if (createHash("sha256").update(bytes).digest("hex") !== photograph)
        throw new StoreError("damaged", `photograph ${photograph} was altered: verify the store`);
      return bytes;
    },
  };
}

/** What is wrong with the photographs that the ledger names: missing, or not the file that was added. */
export function photographProblems(dataDir: string, database: Database.Database): string[] {
  const folder = join(dataDir, photographFolder);
  const problems = new Map<string, string>();
  const sound = new Set<string>();
  for (const row of ledgerRows(database, 0, "photograph-added")) {
    const { sequence, body } = entryOf<"photograph-added">(row);
    const { photograph, bytes, name } = body;
    if (sound.has(photograph) || problems.has(photograph)) continue;
    const problem = fileProblem(folder, photograph, bytes);
    if (problem === null) sound.add(photograph);
    else problems.set(photograph, `${problem}; entry ${sequence} added it as ${name}`);
  }
  return [...problems.values()];
}

function pathOf(folder: string, photograph: string): string {
  if (!/^[0-9a-f]{64}$/.test(photograph))
    throw new StoreError(
      "refused",
      `found photograph "${photograph.slice(0, 80)}"; accepted are 64 lower-case hexadecimal digits`,
    );
  return join(folder, photograph);
}

function fileProblem(folder: string, photograph: string, bytes: number): string | null {
  const path = pathOf(folder, photograph);
  const found = lstatSync(path, { throwIfNoEntry: false });
  if (found === undefined) return `photograph ${photograph} is missing`;
  if (!found.isFile()) return `photograph ${photograph} was swapped: it is no file of its own`;
  if (found.size !== bytes)
    return `photograph ${photograph} was swapped or altered: it has ${found.size} bytes, the ledger says ${bytes}`;
  return hashOfFile(path) === photograph
    ? null
    : `photograph ${photograph} was swapped or altered: its bytes have another SHA-256`;
}

function hashOfFile(path: string): string {
  const hash = createHash("sha256");
  const piece = new Uint8Array(1 << 20);
  const file = openSync(path, "r");
  try {
    for (;;) {
      const read = readSync(file, piece);
      if (read === 0) return hash.digest("hex");
      hash.update(piece.subarray(0, read));
    }
  } finally {
    closeSync(file);
  }
}

function syncFolder(folder: string): void {
  if (process.platform === "win32") return;
  const opened = openSync(folder, "r");
  fsyncSync(opened);
  closeSync(opened);
}
