/** What a time stamp is asked for: the ledger as it stood at one entry. Hashes are 64 hex digits, the signature 128. */
export interface HeadInStatement {
  station: string;
  /** Number of entries, which is the sequence of the newest. */
  entries: number;
  /** Hash of the newest entry. */
  head: string;
  /** Root of the Merkle tree over the 32 bytes of every entry's hash, in order. */
  root: string;
  /** The station's signature over the newest entry's hash, as it stands in that entry. */
  signature: string;
}

/**
 * The statement whose SHA-256 is stamped. Anyone who has the ledger can write it anew: six lines, each ended by a line feed.
 * With the root in it, one record can be shown to have been there without showing the others.
 */
export function headStatement({ station, entries, head, root, signature }: HeadInStatement): string {
  return `asfound stamped head 1\nstation ${station}\nentries ${entries}\nhead ${head}\nroot ${root}\nsignature ${signature}\n`;
}

/** The head in a statement, or null where the text is not, to the letter, what `headStatement` writes. */
export function readHeadStatement(text: string): HeadInStatement | null {
  const [, station = "", entries = "", head = "", root = "", signature = ""] =
    /^asfound stamped head 1\nstation (\S+)\nentries (\d{1,15})\nhead (\S+)\nroot (\S+)\nsignature (\S+)\n$/.exec(
      text,
    ) ?? [];
  const found = { station, entries: Number(entries), head, root, signature };
  return headStatement(found) === text ? found : null;
}
