import { join } from "node:path";
import Database from "better-sqlite3";
import { StoreError } from "./store-error.ts";

/** Name of the file that the writing process holds locked. It stays empty. */
export const lockFileName = "writer.lock";

/**
 * Makes this process the one writer on a data directory until the returned function is called or the process ends, however
 * it ends: the lock is the operating system's, held through an otherwise unused SQLite file. Readers do not need it.
 *
 * @throws StoreError `busy` where another process (or another store in this one) writes
 */
export function lockForWriting(dataDir: string): () => void {
  const path = join(dataDir, lockFileName);
  const holder = new Database(path, { timeout: 0 });
  try {
    holder.pragma("journal_mode = MEMORY");
    holder.exec("BEGIN EXCLUSIVE");
  } catch (error) {
    holder.close();
    if ((error as { code?: string }).code !== "SQLITE_BUSY") throw error;
    throw new StoreError(
      "busy",
      `another process is writing to ${dataDir}: end it, or open the store for reading only`,
      error,
    );
  }
  return () => {
    holder.close();
  };
}
