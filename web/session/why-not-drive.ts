import type { SessionView } from "../../src/contract/people-schema.ts";

/** Why whoever is at this page may not drive the bench now, in words; null where nothing stands against it. */
export function whyNotDrive(view: SessionView | null): string | null {
  if (view === null || view.person === null) return null;
  if (!view.roles.includes("operator"))
    return `Starting a test needs the role operator; you have ${view.roles.join(", ") || "none"}.`;
  if (view.bench !== null && !view.bench.mine)
    return `${view.bench.person} drives the bench. It is free once it is given back there.`;
  return null;
}
