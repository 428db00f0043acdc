import { closeSync, existsSync, fsyncSync, openSync, readSync, renameSync, rmSync, statSync } from "node:fs";
import { dirname, join } from "node:path";
import Database from "better-sqlite3";
import { migrate, newestVersion, refuseNewer, versionOf } from "./migrations/migrate.ts";
import { StoreError } from "./store-error.ts";

/** Name of the database in a data directory. */
export const databaseFileName = "asfound.sqlite";

/** "AsFd": marks the file as ours in SQLite's header. */
const applicationId = 0x41734664;

/**
 * Opens an existing database for reading. A medium that cannot be written to is read as it is.
 *
 * @throws StoreError `missing`, `damaged` or `version`
 */
export function openForReading(dataDir: string): Database.Database {
  const path = existing(dataDir);
  const database = named(path, () => {
    try {
      return probed(new Database(path, { readonly: true, fileMustExist: true }), path);
    } catch (error) {
      if (!/^SQLITE_(CANTOPEN|READONLY)/.test((error as { code?: string }).code ?? "")) throw error;
      const uri = `file:${encodeURI(path).replace(/[?#]/g, encodeURIComponent)}?immutable=1`;
      return probed(new Database(uri, { readonly: true }), path);
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
    database.pragma("journal_mode = WAL");
    // better-sqlite3 is built to use NORMAL with WAL, which may lose the last commits when power fails.
    database.pragma("synchronous = FULL");
    database.pragma("foreign_keys = ON");
    demand(database, "journal_mode", "wal");
    demand(database, "synchronous", 2);
    demand(database, "foreign_keys", 1);
    migrate(database);
    return database;
  });
}

function demand(database: Database.Database, pragma: string, wanted: string | number): void {
  const found = database.pragma(pragma, { simple: true });
  if (found !== wanted)
    throw new StoreError("damaged", `SQLite answers ${pragma} = ${String(found)}; the store needs ${wanted}`);
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

/** The path of a database whose file is at least as long as its header says. */
function existing(dataDir: string): string {
  const path = join(dataDir, databaseFileName);
  if (!existsSync(path)) throw new StoreError("missing", `${path} does not exist: there is no store in ${dataDir}`);
  const size = statSync(path).size;
  const header = Buffer.alloc(100);
  const file = openSync(path, "r");
  const read = readSync(file, header, 0, 100, 0);
  closeSync(file);
  if (read < 100) throw new StoreError("damaged", `${path} is cut off: it has ${size} bytes, a database has 512 or more`);
  if (header.toString("latin1", 0, 16) !== "SQLite format 3\0")
    throw new StoreError("damaged", `${path} is not an SQLite database`);
  // Pages still in the write-ahead log need not be in the file yet.
  const logged = existsSync(`${path}-wal`) && statSync(`${path}-wal`).size > 0;
  const pageSize = header.readUInt16BE(16) === 1 ? 65536 : header.readUInt16BE(16);
  const expected = pageSize * header.readUInt32BE(28);
  if (!logged && size < expected)
    throw new StoreError("damaged", `${path} is cut off: it has ${size} bytes of ${expected}`);
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
    if (/^SQLITE_(CORRUPT|NOTADB|IOERR)/.test(code))
      throw new StoreError("damaged", `${path} is damaged: ${(error as Error).message}`, error);
    throw error;
  }
}
