/**
 * A line to a rig, whatever it is made of: bytes out, whole lines in.
 *
 * Laws that every link keeps, tested by one suite over all of them: it writes only while it is open and keeps nothing for
 * later, so that a stale command cannot fire on reconnection; no line it delivers contains a newline; what it holds of an
 * unfinished line is bounded; after a loss it can be opened afresh and starts with nothing of the old connection.
 */
export interface Link {
  /** As a user would write it. */
  readonly address: string;
  /** Lines thrown away because they were longer than the wire allows. */
  readonly overruns: number;
  /** @throws LinkError if there is nothing at the address, or somebody else has it */
  open(): Promise<void>;
  /** @throws LinkError unless the link is open and takes the bytes at once */
  write(bytes: Uint8Array): void;
  /** Ends the connection and frees what it holds; safe to call at any time, any number of times. */
  close(): Promise<void>;
  /** Sets who hears the lines, each without its newline. Replaces the handler before. */
  onLine(handler: (line: Uint8Array) => void): void;
  /** Sets who hears, at most once for each opening, that the line is gone without having been closed. */
  onLost(handler: (reason: string) => void): void;
}

/** A line to a rig that cannot be opened, is gone, or does not take what is written. */
export class LinkError extends Error {
  readonly address: string;

  constructor(address: string, message: string) {
    super(`${address}: ${message}`);
    this.name = "LinkError";
    this.address = address;
  }
}
