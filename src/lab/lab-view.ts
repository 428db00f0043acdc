import type { LabView, SeedingView } from "../contract/http.ts";
import { cautions, rateCaution } from "./cautions.ts";
import type { Lab } from "./lab.ts";
import { stationOf } from "./open-lab.ts";
import { programVersion } from "./project-folder.ts";

/** Who and where, with the head of the ledger and the cautions that stand on every page. */
export function labView(lab: Pick<Lab, "store">, seeding: SeedingView | null): LabView {
  const { station, lab: name, demo } = stationOf(lab);
  const head = lab.store.ledger.head();
  return {
    lab: name,
    station,
    demo,
    version: programVersion(),
    entries: head.sequence,
    head: head.hash,
    seeding,
    cautions: [...cautions],
    rateCaution,
  };
}
