/** A day and time on the reader's own clock. */
export function MomentField({
  id,
  label,
  value,
  onChange,
  problem = null,
}: {
  id: string;
  label: string;
  value: string;
  onChange: (value: string) => void;
  problem?: string | null;
}) {
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <input
        id={id}
        type="datetime-local"
        value={value}
        aria-invalid={problem !== null}
        aria-describedby={problem === null ? undefined : `${id}-problem`}
        onInput={(event) => onChange(event.currentTarget.value)}
      />
      {problem !== null && (
        <p class="field-problem" id={`${id}-problem`}>
          {problem}
        </p>
      )}
    </div>
  );
}

/** The text of such a field as a moment in UTC; null where it is empty or no moment. */
export function momentOf(text: string): string | null {
  const date = new Date(text);
  return text === "" || Number.isNaN(date.getTime()) ? null : date.toISOString();
}

/** This minute on the reader's own clock, as such a field writes it. */
export function thisMinute(now = new Date()): string {
  return new Date(now.getTime() - now.getTimezoneOffset() * 60_000).toISOString().slice(0, 16);
}
