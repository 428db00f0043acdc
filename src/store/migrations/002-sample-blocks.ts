/**
 * Sample blocks beside the ledger. Shipped: never edit, write the next migration instead.
 *
 * `shot` is the sequence number of the entry that opened the shot, `number` counts its blocks from 1. What `kind` and
 * `payload` mean is drawn in src/store/sample-blocks.ts.
 */
export const sql = `
CREATE TABLE sample_blocks (
  shot    INTEGER NOT NULL REFERENCES ledger (sequence),
  number  INTEGER NOT NULL,
  kind    INTEGER NOT NULL,
  payload BLOB NOT NULL,
  PRIMARY KEY (shot, number)
) STRICT;

CREATE TRIGGER sample_blocks_append_only BEFORE INSERT ON sample_blocks BEGIN
  SELECT RAISE(ABORT, 'sample blocks belong to a shot that the ledger has opened')
  WHERE NOT EXISTS (SELECT 1 FROM ledger WHERE sequence = NEW.shot AND kind = 'shot-opened');
  SELECT RAISE(ABORT, 'the shot is closed: it takes no more sample blocks')
  WHERE EXISTS (
    SELECT 1 FROM ledger
    WHERE kind = 'shot-closed' AND shot = (SELECT shot FROM ledger WHERE sequence = NEW.shot));
  SELECT RAISE(ABORT, 'sample blocks of a shot are numbered without a gap')
  WHERE NEW.number IS NOT (SELECT COALESCE(MAX(number), 0) + 1 FROM sample_blocks WHERE shot = NEW.shot);
END;

CREATE TRIGGER sample_blocks_never_updated BEFORE UPDATE ON sample_blocks BEGIN
  SELECT RAISE(ABORT, 'sample blocks are never updated');
END;

CREATE TRIGGER sample_blocks_never_deleted BEFORE DELETE ON sample_blocks BEGIN
  SELECT RAISE(ABORT, 'sample blocks are never deleted');
END;
`;
