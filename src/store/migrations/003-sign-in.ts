/**
 * Under which sign-in an entry was made, and the passwords. Shipped: never edit, write the next migration instead.
 *
 * `sign_in` is the sequence of the entry under which the actor signed in, NULL where the name was only typed. `verifier` is drawn in
 * src/store/passwords.ts; its SHA-256 is in the ledger. The index serves everything that reads the ledger by kind.
 */
export const sql = `
ALTER TABLE ledger ADD COLUMN sign_in INTEGER;

CREATE INDEX ledger_kind ON ledger (kind, sequence);

CREATE TABLE passwords (
  person   TEXT PRIMARY KEY,
  verifier TEXT NOT NULL
) STRICT, WITHOUT ROWID;
`;
