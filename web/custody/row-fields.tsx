/** One column of rows that are typed. */
export interface RowColumn {
  name: string;
  label: string;
  kind?: "text" | "date";
}

/** A row: text by the name of its column. */
export type RowText = Readonly<Record<string, string>>;

/** Rows that were begun: those with a field that is not empty. */
export const begunRows = (rows: readonly RowText[]): RowText[] =>
  rows.filter((row) => Object.values(row).some((text) => text.trim() !== ""));

/** Several things of one sort, a row each; an empty row stands ready for the next. */
export function RowFields({
  id,
  legend,
  columns,
  rows,
  onChange,
}: {
  id: string;
  legend: string;
  columns: readonly RowColumn[];
  rows: readonly RowText[];
  onChange: (rows: RowText[]) => void;
}) {
  const shown = [...begunRows(rows), {}];
  const change = (at: number, name: string, text: string) =>
    onChange(shown.map((row, other) => (other === at ? { ...row, [name]: text } : row)));
  return (
    <fieldset class="field-rows">
      <legend>{legend}</legend>
      {shown.map((row: RowText, at) => (
        <div key={at} class="rows-line">
          {columns.map(({ name, label, kind = "text" }) => (
            <div key={name} class="field">
              <label for={`${id}-${at}-${name}`}>{label}</label>
              <input
                id={`${id}-${at}-${name}`}
                type={kind}
                autoComplete="off"
                value={row[name] ?? ""}
                onInput={(event) => change(at, name, event.currentTarget.value)}
              />
            </div>
          ))}
        </div>
      ))}
    </fieldset>
  );
}
