import type { ComponentChildren } from "preact";

/** What a field is: its name, its value, what is wrong with it, and what is done when it changes. */
interface FieldProps {
  id: string;
  label: string;
  value: string;
  onChange: (value: string) => void;
  /** What the server or the form says of it; null where nothing is wrong. */
  problem?: string | null;
  /** Takes the whole row, or the place of two fields. */
  wide?: boolean | "double";
}

function Frame({
  id,
  label,
  problem = null,
  wide = false,
  children,
}: Pick<FieldProps, "id" | "label" | "problem" | "wide"> & { children: ComponentChildren }) {
  return (
    <div class={`field${wide === "double" ? " field-double" : wide ? " field-wide" : ""}`}>
      <label for={id}>{label}</label>
      {children}
      {problem !== null && (
        <p class="field-problem" id={`${id}-problem`}>
          {problem}
        </p>
      )}
    </div>
  );
}

const shared = ({ id, value, problem = null, onChange }: FieldProps) => ({
  id,
  value,
  "aria-invalid": problem !== null,
  "aria-describedby": problem === null ? undefined : `${id}-problem`,
  onInput: (event: { currentTarget: { value: string } }) => onChange(event.currentTarget.value),
});

/** A line of text, a number, a day or a password, under its label. */
export function TextField(
  props: FieldProps & {
    kind?: "text" | "number" | "date" | "password";
    example?: string;
    required?: boolean;
    /** What the browser may fill in by itself. */
    fills?: "username" | "current-password" | "new-password";
  },
) {
  const { kind = "text", example = "", required = false, fills = "off" } = props;
  return (
    <Frame {...props}>
      <input
        {...shared(props)}
        type={kind === "date" || kind === "password" ? kind : "text"}
        inputMode={kind === "number" ? "decimal" : "text"}
        placeholder={example}
        aria-required={required}
        autoComplete={fills}
      />
    </Frame>
  );
}

/** Several lines of text under a label. */
export function LongField(props: FieldProps & { rows?: number; example?: string }) {
  return (
    <Frame {...props}>
      <textarea
        {...shared(props)}
        rows={props.rows ?? 3}
        placeholder={props.example ?? ""}
        spellcheck={false}
      />
    </Frame>
  );
}

/** A choice among a few under a label. */
export function ChoiceField(
  props: FieldProps & { choices: readonly (readonly [value: string, words: string])[] },
) {
  return (
    <Frame {...props}>
      <select {...shared(props)}>
        {props.choices.map(([value, words]) => (
          <option key={value} value={value}>
            {words}
          </option>
        ))}
      </select>
    </Frame>
  );
}

/** A box to tick, with its words. */
export function TickField({
  checked,
  onChange,
  children,
}: {
  checked: boolean;
  onChange: (checked: boolean) => void;
  children: ComponentChildren;
}) {
  return (
    <label class="tick">
      <input type="checkbox" checked={checked} onChange={(event) => onChange(event.currentTarget.checked)} />
      <span>{children}</span>
    </label>
  );
}
