import { LongField } from "./field.tsx";

/** A table as CSV: chosen as a file, or pasted. `onChange` gets its text and the name of the file, empty where pasted. */
export function CsvField({
  id,
  label,
  value,
  example,
  onChange,
}: {
  id: string;
  label: string;
  value: string;
  example: string;
  onChange: (text: string, name: string) => void;
}) {
  async function read(input: HTMLInputElement) {
    const file = input.files?.[0];
    if (file === undefined) return;
    onChange(await file.text(), file.name);
    // The same file can be chosen again after it was mended.
    input.value = "";
  }
  return (
    <div class="csv-field field-wide">
      <div class="field">
        <label for={`${id}-file`}>{label}: choose a file</label>
        <input
          id={`${id}-file`}
          type="file"
          accept=".csv,text/csv,text/plain"
          onChange={(event) => void read(event.currentTarget)}
        />
      </div>
      <LongField
        id={id}
        label="or paste its lines"
        value={value}
        rows={6}
        example={example}
        onChange={(text) => onChange(text, "")}
      />
    </div>
  );
}
