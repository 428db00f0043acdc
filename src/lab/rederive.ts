import { canonicalJson } from "../core/evidence/canonical-json.ts";
import { deriveShot } from "./derive-shot.ts";
import type { Lab } from "./lab.ts";

/** Outcome of deriving every closed shot again. */
export interface Rederived {
  shots: number;
  same: number;
  different: { shot: string; what: ("reading" | "verdict")[] }[];
}

/** Derives reading and verdict of every closed shot again from its stored samples and compares the canonical bytes. */
export function rederive(lab: Pick<Lab, "store">): Rederived {
  const outcome: Rederived = { shots: 0, same: 0, different: [] };
  for (const { opened, closed } of lab.store.closedShots()) {
    outcome.shots += 1;
    const again = deriveShot(opened, closed, lab.store.readSignal(opened.shot));
    const what = (["reading", "verdict"] as const).filter(
      (part) => canonicalJson(again[part]) !== canonicalJson(closed[part]),
    );
    if (what.length === 0) outcome.same += 1;
    else outcome.different.push({ shot: opened.shot, what });
  }
  return outcome;
}
