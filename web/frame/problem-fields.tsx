import type { Problem } from "../../src/contract/http.ts";

/** Each thing that a problem names, a line each: for files, in which many lines can be wrong. */
export function ProblemFields({ problem }: { problem: Problem | null }) {
  const fields = problem?.fields ?? [];
  if (fields.length === 0) return null;
  return (
    <ul class="reasons" aria-label="What is wrong, line by line">
      {fields.map(({ field, problem: words }) => (
        <li key={`${field} ${words}`}>
          <strong>{field}</strong>: {words}
        </li>
      ))}
    </ul>
  );
}
