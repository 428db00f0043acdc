import { canonicalJson } from "../core/evidence/canonical-json.ts";
import { deriveShot } from "./derive-shot.ts";
import type { Lab } from "./lab.ts";
import { knownShot } from "./shot-view.ts";

/** Outcome of deriving every closed shot again. */
export interface Rederived {
  shots: number;
  same: number;
  different: { shot: string; what: ("reading" | "verdict")[] }[];
}

/** Derives reading and verdict of every closed shot again from its stored samples and compares the canonical bytes. */
export function rederive(lab: Pick<Lab, "store">): Rederived {
  const outcome: Rederived = { shots: 0, same: 0, different: [] };
  for (const { body: closed } of lab.store.ledger.entries({ kind: "shot-closed" })) {
    outcome.shots += 1;
    const opened = knownShot(lab, closed.shot).opened.body;
    const again = deriveShot(opened, closed, lab.store.blocks.readSignal(opened.shot));
    const what = (["reading", "verdict"] as const).filter(
      (part) => canonicalJson(again[part]) !== canonicalJson(closed[part]),
    );
    if (what.length === 0) outcome.same += 1;
    else outcome.different.push({ shot: opened.shot, what });
  }
  return outcome;
}
