/**
 * The ledger, and facts about the store itself. Shipped: never edit, write the next migration instead.
 *
 * `body` is the RFC 8785 text of the entry's body. `shot` is read from the body by SQLite; the partial index keeps a shot
 * from being opened or closed twice.
 */
export const sql = `
CREATE TABLE ledger (
  sequence  INTEGER PRIMARY KEY,
  station   TEXT NOT NULL,
  at        TEXT NOT NULL,
  actor     TEXT NOT NULL,
  kind      TEXT NOT NULL,
  body      TEXT NOT NULL,
  previous  TEXT NOT NULL,
  hash      TEXT NOT NULL UNIQUE,
  signature TEXT NOT NULL,
  shot      TEXT GENERATED ALWAYS AS (json_extract(body, '$.shot')) VIRTUAL
) STRICT;

CREATE UNIQUE INDEX ledger_shot ON ledger (shot, kind) WHERE kind IN ('shot-opened', 'shot-closed');

CREATE TRIGGER ledger_appends_only BEFORE INSERT ON ledger BEGIN
  SELECT RAISE(ABORT, 'the ledger only grows: the new entry does not follow its head')
  WHERE NEW.sequence IS NOT (SELECT COALESCE(MAX(sequence), 0) + 1 FROM ledger)
     OR NEW.previous IS NOT COALESCE(
       (SELECT hash FROM ledger ORDER BY sequence DESC LIMIT 1),
       '0000000000000000000000000000000000000000000000000000000000000000');
END;

CREATE TRIGGER ledger_never_updated BEFORE UPDATE ON ledger BEGIN
  SELECT RAISE(ABORT, 'ledger entries are never updated: append an entry that amends');
END;

CREATE TRIGGER ledger_never_deleted BEFORE DELETE ON ledger BEGIN
  SELECT RAISE(ABORT, 'ledger entries are never deleted');
END;

CREATE TABLE store_facts (
  name  TEXT PRIMARY KEY,
  value TEXT NOT NULL
) STRICT, WITHOUT ROWID;
`;
