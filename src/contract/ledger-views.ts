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
