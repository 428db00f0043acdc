import {
  closeSync,
  existsSync,
  fsyncSync,
  openSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
} from "node:fs";
import { dirname, join } from "node:path";
import Database from "better-sqlite3";
import { migrate, newestVersion, refuseNewer, versionOf } from "./migrations/migrate.ts";
import { StoreError } from "./store-error.ts";

/** Name of the database in a data directory. */
export const databaseFileName = "asfound.sqlite";

/** "AsFd": marks the file as ours in SQLite's header. */
const applicationId = 0x41734664;

/**
 * Opens an existing database for reading. From a medium that cannot be written to it is read into memory.
 *
 * @throws StoreError `missing`, `damaged`, `version`, or `read-only` where the medium forbids even to read
 */
export function openForReading(dataDir: string): Database.Database {
  const path = existing(dataDir);
  const database = named(path, () => {
    try {
      return probed(new Database(path, { readonly: true, fileMustExist: true }), path);
    } catch (error) {
      if (!/^SQLITE_(CANTOPEN|READONLY)/.test((error as { code?: string }).code ?? "")) throw error;
      // The file alone would count then: entries still in the write-ahead log would silently be left out.
      if (existsSync(`${path}-wal`) && statSync(`${path}-wal`).size > 0)
        throw new StoreError(
          "read-only",
          `${path} has entries in its write-ahead log, which cannot be read where nothing can be written: copy the folder elsewhere and open the copy`,
          error,
        );
      return probed(inMemory(path), path);
    }
  });
  const found = versionOf(database);
  if (found < newestVersion) {
    database.close();
    throw new StoreError(
      "version",
      `${path} has version ${found}; this program reads version ${newestVersion}: open it once for writing to bring it up to date`,
    );
  }
  return database;
}

/** A copy of the database in memory, for media on which SQLite cannot make the files that its readers share. */
function inMemory(path: string): Database.Database {
  const bytes = readFileSync(path);
  // Bytes 18 and 19 say "writes ahead", which a database in memory cannot; 1 says "as of old" (SQLite file format, 1.3.3).
  bytes.fill(1, 18, 20);
  return new Database(bytes, { readonly: true });
}

/**
 * Opens the database for writing, after making it where there is none. Every commit reaches the disk before it returns.
 *
 * A new database is made beside its place and moved there when complete, so that an empty file in its place is always damage.
 *
 * @throws StoreError `damaged` or `version`
 */
export function openForWriting(dataDir: string): Database.Database {
  const path = join(dataDir, databaseFileName);
  if (!existsSync(path)) create(path);
  existing(dataDir);
  return named(path, () => {
    const database = probed(new Database(path, { fileMustExist: true, timeout: 5000 }), path);
    try {
      // better-sqlite3 is built to use NORMAL with WAL, which may lose the last commits when power fails.
      insist(database, "journal_mode", "WAL", "wal");
      insist(database, "synchronous", "FULL", 2);
      insist(database, "foreign_keys", "ON", 1);
      migrate(database);
      return database;
    } catch (error) {
      database.close();
      throw error;
    }
  });
}

/** Sets a pragma and reads it back: SQLite says nothing where it cannot or will not. */
function insist(database: Database.Database, pragma: string, value: string, readsAs: string | number): void {
  database.pragma(`${pragma} = ${value}`);
  const found = database.pragma(pragma, { simple: true });
  if (found !== readsAs)
    throw new StoreError("damaged", `SQLite answers ${pragma} = ${String(found)}; the store needs ${value}`);
}

function create(path: string): void {
  const unfinished = `${path}.new`;
  for (const leftover of [unfinished, `${unfinished}-wal`, `${unfinished}-shm`, `${unfinished}-journal`])
    rmSync(leftover, { force: true });
  const database = new Database(unfinished);
  database.pragma("synchronous = FULL");
  database.pragma(`application_id = ${applicationId}`);
  migrate(database);
  database.close();
  renameSync(unfinished, path);
  if (process.platform === "win32") return;
  const folder = openSync(dirname(path), "r");
  fsyncSync(folder);
  closeSync(folder);
}

/**
 * The path of the database, if there is one. The file is looked at from outside only: a process that opens and closes it
 * by other means than SQLite loses the locks that SQLite holds on it.
 */
function existing(dataDir: string): string {
  const path = join(dataDir, databaseFileName);
  if (!existsSync(path))
    throw new StoreError("missing", `${path} does not exist: there is no store in ${dataDir}`);
  const size = statSync(path).size;
  if (size < 512)
    throw new StoreError("damaged", `${path} is cut off: it has ${size} bytes, a database has 512 or more`);
  return path;
}

function probed(database: Database.Database, path: string): Database.Database {
  try {
    database.prepare("SELECT count(*) FROM sqlite_schema").get();
    refuseNewer(versionOf(database));
    const found = database.pragma("application_id", { simple: true });
    if (found !== applicationId)
      throw new StoreError("damaged", `${path} is an SQLite database, but not one that this program made`);
    return database;
  } catch (error) {
    database.close();
    throw error;
  }
}

/** Runs `open`, and turns what SQLite says of a damaged file into an error with its path. */
function named<T>(path: string, open: () => T): T {
  try {
    return open();
  } catch (error) {
    const code = (error as { code?: string }).code ?? "";
    if (code === "SQLITE_NOTADB") throw new StoreError("damaged", `${path} is not an SQLite database`, error);
    if (/^SQLITE_(CORRUPT|IOERR)/.test(code))
      throw new StoreError("damaged", `${path} is damaged or cut off: ${(error as Error).message}`, error);
    throw error;
  }
}
