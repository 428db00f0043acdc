import { openStore } from "../store/open-store.ts";
import type { StationRecord } from "../store/records.ts";
import { StoreError } from "../store/store-error.ts";
import type { Lab } from "./lab.ts";
import { loadLimitLibrary } from "./limit-library.ts";
import { recoverShots } from "./recover-shots.ts";

/** How a lab begins, where its data directory is empty. */
export interface NewLab {
  lab: string;
  demo: boolean;
}

const now = () => new Date();

/**
 * Opens a data directory for work, making it where it is missing, and closes as interrupted what a crash left open.
 *
 * @throws StoreError where another process works on it, or it is damaged
 */
export function openLab(dataDir: string, begin: NewLab = { lab: "unnamed lab", demo: false }): Lab {
  const store = openStore(dataDir);
  if (store.records.station() === null) store.openStation(begin, { actor: "bench" });
  const lab: Lab = { store, limits: loadLimitLibrary(), now, actor: "bench" };
  recoverShots(lab);
  return lab;
}

/**
 * Opens an existing data directory for reading; another process may be working on it. Where none is, what only a writer can
 * put right is put right first: a shot that a crash left open is closed as interrupted, and projections of an older program
 * are rebuilt.
 *
 * @throws StoreError where there is nothing to read, or it is damaged
 */
export function openLabForReading(dataDir: string): Lab {
  const open = (): Lab => ({
    store: openStore(dataDir, { readOnly: true }),
    limits: loadLimitLibrary(),
    now,
    actor: "reader",
  });
  let lab: Lab;
  try {
    lab = open();
  } catch (error) {
    if (!(error instanceof StoreError && error.code === "version")) throw error;
    openLab(dataDir).store.close();
    return open();
  }
  if (lab.store.records.openShots().length === 0) return lab;
  lab.store.close();
  try {
    openLab(dataDir).store.close();
  } catch (error) {
    if (!(error instanceof StoreError && error.code === "busy")) throw error;
  }
  return open();
}

/** The station of a lab, from its ledger's first entry. */
export function stationOf(lab: Pick<Lab, "store">): StationRecord {
  const station = lab.store.records.station();
  if (station === null) throw new Error("the ledger has no first entry; open the lab before using it");
  return station;
}
