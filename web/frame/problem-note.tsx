import type { Problem } from "../../src/contract/http.ts";
import { WarningGlyph } from "./banners.tsx";

/** A problem in plain words. Nothing when there is none. */
export function ProblemNote({ problem }: { problem: Problem | null }) {
  if (problem === null) return null;
  return (
    <p class="problem" role="alert">
      <WarningGlyph />
      <span>{problem.detail}</span>
    </p>
  );
}
