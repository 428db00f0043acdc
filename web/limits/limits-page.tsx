import { routeTo } from "../routing.ts";
import { BandsPart } from "./bands-part.tsx";
import { CalibrationsPart } from "./calibrations-part.tsx";
import { PolicyPart } from "./policy-part.tsx";
import { SetsPart } from "./sets-part.tsx";

const parts = [
  ["sets", "Limit sets"],
  ["bands", "Bands"],
  ["calibrations", "Calibrations"],
  ["policy", "Policy"],
] as const;

/** What specimens are judged by: limit sets, the lab's own bands, calibrations of the rig, and what the lab has decided. */
export function LimitsPage({ rest }: { rest: string[] }) {
  const part = parts.find(([id]) => id === rest[0])?.[0] ?? "sets";
  return (
    <div class="record">
      <div class="record-head">
        <h1>Limits</h1>
        <nav class="choices" aria-label="Parts of this page">
          {parts.map(([id, words]) => (
            <a
              key={id}
              class="button part-link"
              href={routeTo("limits", id)}
              aria-current={id === part ? "page" : undefined}
            >
              {words}
            </a>
          ))}
        </nav>
      </div>
      {part === "sets" && <SetsPart chosen={rest[1] ?? null} />}
      {part === "bands" && <BandsPart />}
      {part === "calibrations" && <CalibrationsPart />}
      {part === "policy" && <PolicyPart />}
    </div>
  );
}
