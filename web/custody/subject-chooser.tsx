import { useEffect, useRef, useState } from "preact/hooks";
import type { SpecimenView } from "../../src/contract/http.ts";
import type { JobView } from "../../src/contract/job-schema.ts";

/** A specimen or a job. */
export interface CaseSubject {
  kind: "specimen" | "job";
  id: string;
}

interface Choice extends CaseSubject {
  name: string;
  more: string;
}

const shownAtMost = 12;
const plain = (text: string) => text.trim().toLowerCase();

/** What a scanned or typed text names: a label, an identifier or a job, whole; else null. */
export function subjectNamed(text: string, choices: readonly Choice[]): Choice | null {
  const wanted = plain(text);
  if (wanted === "") return null;
  return choices.find((one) => plain(one.name) === wanted || plain(one.id) === wanted) ?? null;
}

/** Every job and every specimen, to choose among. */
export function subjectChoices(
  specimens: readonly SpecimenView[],
  jobs: readonly JobView[],
): readonly Choice[] {
  return [
    ...jobs.map(
      ({ job, specimens: own }): Choice => ({
        kind: "job",
        id: job,
        name: job,
        more: `job, ${own.length} ${own.length === 1 ? "specimen" : "specimens"}`,
      }),
    ),
    ...specimens.map(
      ({ id, details }): Choice => ({
        kind: "specimen",
        id,
        name: details.label,
        more: [id, details.job].filter((one) => one !== undefined).join(", "),
      }),
    ),
  ];
}

/**
 * Finds a specimen or a job: a scanner types the label and ends with Enter; a person types part of it and chooses. Takes the
 * focus, so that a scan goes to the right place without a hand on the mouse.
 */
export function SubjectChooser({
  choices,
  chosen,
  onChoose,
}: {
  choices: readonly Choice[];
  chosen: CaseSubject | null;
  onChoose: (subject: CaseSubject) => void;
}) {
  const [text, setText] = useState("");
  const [problem, setProblem] = useState<string | null>(null);
  const input = useRef<HTMLInputElement>(null);
  useEffect(() => {
    if (chosen === null) input.current?.focus();
  }, [chosen]);
  const wanted = plain(text);
  const found = choices.filter((one) => plain(one.name).includes(wanted) || plain(one.more).includes(wanted));
  const listed = wanted === "" && chosen !== null ? [] : found.slice(0, shownAtMost);

  function choose(one: Choice) {
    setText("");
    setProblem(null);
    onChoose({ kind: one.kind, id: one.id });
  }

  function take(event: Event) {
    event.preventDefault();
    const one = subjectNamed(text, choices) ?? (found.length === 1 ? found[0] : undefined);
    if (one !== undefined) return choose(one);
    setProblem(
      text.trim() === ""
        ? "Scan or type a label, an identifier or a job."
        : found.length === 0
          ? `Found "${text.trim()}"; no specimen and no job has it.`
          : `"${text.trim()}" fits ${found.length}; type more of it or choose below.`,
    );
    input.current?.select();
  }

  return (
    <form class="chooser-form" noValidate onSubmit={take} aria-label="Choose a specimen or a job">
      <div class="field">
        <label for="subject-scan">Specimen or job: scan its label, or type and press Enter</label>
        <input
          id="subject-scan"
          ref={input}
          type="search"
          value={text}
          autoComplete="off"
          aria-invalid={problem !== null}
          aria-describedby={problem === null ? undefined : "subject-scan-problem"}
          onInput={(event) => {
            setText(event.currentTarget.value);
            setProblem(null);
          }}
        />
        {problem !== null && (
          <p class="field-problem" id="subject-scan-problem" role="alert">
            {problem}
          </p>
        )}
      </div>
      {listed.length > 0 && (
        <ul class="subject-list" aria-label="What fits">
          {listed.map((one) => (
            <li key={`${one.kind} ${one.id}`}>
              <button
                type="button"
                aria-pressed={chosen?.kind === one.kind && chosen.id === one.id}
                onClick={() => choose(one)}
              >
                <strong>{one.name}</strong>
                <span class="cell-more">{one.more}</span>
              </button>
            </li>
          ))}
        </ul>
      )}
      {found.length > listed.length && listed.length > 0 && (
        <p class="hint">{found.length - listed.length} more; type part of the label to find them.</p>
      )}
    </form>
  );
}
