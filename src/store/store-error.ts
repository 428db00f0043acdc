/**
 * Why the store did not do what was asked.
 *
 * `missing`: there is no store there. `busy`: another process writes to it. `damaged`: what is on the disk is not what the
 * store wrote. `version`: written by a newer program, or not yet brought up to date. `key`: the station's key is missing,
 * readable by others, or not the ledger's. `read-only`: a write through a store opened for reading. `refused`: the
 * request contradicts the record.
 */
export type StoreErrorCode = "missing" | "busy" | "damaged" | "version" | "key" | "read-only" | "refused";

/** An error of the store that its user can act on; the message says what was found and what is accepted. */
export class StoreError extends Error {
  override readonly name = "StoreError";
  readonly code: StoreErrorCode;

  constructor(code: StoreErrorCode, message: string, cause?: unknown) {
    super(message, cause === undefined ? undefined : { cause });
    this.code = code;
  }
}
