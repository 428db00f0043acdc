import { routeTo } from "../routing.ts";
import { HowManyPart } from "./how-many-part.tsx";
import { PanelPart } from "./panel-part.tsx";
import { PlacePart } from "./place-part.tsx";
import { SharesPart } from "./shares-part.tsx";

const parts = [
  ["tests", "How many to test"],
  ["place", "What it means for a place"],
  ["panel", "What it means for a panel"],
  ["shares", "How common a kind is"],
] as const;

/** How many to test, and what results mean for those that were not tested. */
export function PlanPage({ rest }: { rest: string[] }) {
  const part = parts.find(([id]) => id === rest[0])?.[0] ?? "tests";
  return (
    <div class="record">
      <div class="record-head">
        <h1>Plan</h1>
        <nav class="choices" aria-label="Parts of this page">
          {parts.map(([id, words]) => (
            <a
              key={id}
              class="button part-link"
              href={routeTo("plan", id)}
              aria-current={id === part ? "page" : undefined}
            >
              {words}
            </a>
          ))}
        </nav>
      </div>
      {part === "tests" && <HowManyPart />}
      {part === "place" && <PlacePart />}
      {part === "panel" && <PanelPart />}
      {part === "shares" && <SharesPart />}
    </div>
  );
}
