import type { ComponentChildren } from "preact";
import { useErrorBoundary } from "preact/hooks";
import { ProblemNote } from "./problem-note.tsx";

/** Keeps what is wrong in one page from taking down the frame around it, in which the stop stands. */
export function Guarded({ children }: { children: ComponentChildren }) {
  const [error, again] = useErrorBoundary((thrown: unknown) => reportError(thrown));
  if (error === undefined) return <>{children}</>;
  const detail = `This page failed: ${error instanceof Error ? error.message : String(error)}. Nothing on the bench is changed by that; Escape still stops a test.`;
  return (
    <div class="record">
      <ProblemNote problem={{ type: "about:blank", title: "", status: 0, detail }} />
      <button type="button" onClick={again}>
        Try again
      </button>
    </div>
  );
}
