import Type from "typebox";
import type { LedgerEntry } from "./ledger-entries.ts";

/** The ledger, or its end, as others get it. GET /api/ledger?since=N */
export interface LedgerExport {
  station: string;
  /** Ed25519 key of the station, 64 hex digits. */
  publicKey: string;
  /** Hash of the newest entry; 64 zeros where there is none. */
  head: string;
  entries: LedgerEntry[];
}

/** An authority's answer larger than this is refused: one with a chain of certificates has some thousand bytes. */
export const largestStampBytes = 100_000;

/** A time stamp in the ledger. GET /api/timestamps: oldest first */
export interface StampView {
  /** The entry that keeps it; when and by whom. */
  sequence: number;
  at: string;
  by: string;
  /** The ledger that was stamped: so many entries, with this head. */
  entries: number;
  head: string;
  /** SHA-256 that was stamped, 64 hex digits. */
  imprint: string;
  /** The authority's time, UTC in ISO 8601 with milliseconds. */
  time: string;
  /** Object identifier of the authority's policy. */
  policy: string;
  /** Serial number that the authority gave it, hex. */
  serial: string;
  /** Subject of the certificate that made the signature, as the certificate words it. */
  authority: string;
  /** What a reader must be told of it; empty where there is nothing. */
  remarks: string[];
}

/** GET /api/verify */
export const verifyQuery = Type.Object(
  {
    head: Type.Optional(
      Type.String({
        pattern: "^[0-9a-f]{64}$",
        description: "a head kept elsewhere, 64 lower-case hexadecimal digits, which the ledger must contain",
      }),
    ),
  },
  { additionalProperties: false },
);

/** What a check of the whole data directory found. Problems are whole sentences, the first thing that differs first. */
export interface LedgerCheck {
  entries: number;
  head: string;
  ok: boolean;
  problems: string[];
  /** How long it took. */
  seconds: number;
}
