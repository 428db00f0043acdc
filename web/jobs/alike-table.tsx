import type { RefObject } from "preact";
import { useEffect, useState } from "preact/hooks";
import { type RowColumn, rowColumns, type TypedRow, type WholeRow } from "./alike-rows.ts";

const handles = ["", "on", "off", "tripped", "unknown"];

/** The lines, one a specimen. Enter goes to the same field of the next line, as a scanner does after each label. */
export function AlikeTable({
  table,
  typed,
  whole,
  onChange,
}: {
  table: RefObject<HTMLDivElement>;
  typed: readonly TypedRow[];
  whole: readonly WholeRow[];
  onChange: (rows: readonly TypedRow[]) => void;
}) {
  /** Where the focus is to go once the line is drawn. */
  const [next, setNext] = useState<{ row: number; column: RowColumn } | null>(null);
  useEffect(() => {
    if (next === null) return;
    const cell = table.current?.querySelector<HTMLInputElement>(`#alike-${next.row}-${next.column}`);
    cell?.focus();
    // A scan replaces what stands there.
    if (cell instanceof HTMLInputElement) cell.select();
    setNext(null);
  }, [next, table]);

  const change = (at: number, column: RowColumn, text: string) =>
    onChange(
      typed.map((row, other) => {
        if (other !== at) return row;
        const { [column]: _before, ...rest } = row;
        // An emptied label counts up again; an emptied word is one that is not known.
        return column === "label" && text === "" ? rest : { ...rest, [column]: text };
      }),
    );

  function onKey(event: KeyboardEvent, row: number, column: RowColumn) {
    const step = { Enter: 1, ArrowDown: 1, ArrowUp: -1 }[event.key];
    if (step === undefined || event.ctrlKey) return;
    const isChoice = event.currentTarget instanceof HTMLSelectElement;
    if (isChoice && event.key !== "Enter") return;
    event.preventDefault();
    const target = row + step;
    if (target < 0) return;
    if (target >= typed.length) {
      if (event.key !== "Enter") return;
      onChange([...typed, {}]);
    }
    setNext({ row: target, column });
  }

  const labels = whole.map((row) => row.label);
  return (
    <div class="table-frame" ref={table}>
      <table class="alike">
        <thead>
          <tr>
            <th scope="col" class="number">
              Line
            </th>
            {rowColumns.map(({ name, label }) => (
              <th key={name} scope="col">
                {label}
              </th>
            ))}
            <th scope="col">
              <span class="for-ears">Take away</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {whole.map((row, at) => (
            <tr key={at}>
              <th scope="row" class="number">
                {at + 1}
              </th>
              {rowColumns.map(({ name, label }) => {
                const twice = name === "label" && row.label !== "" && labels.indexOf(row.label) !== at;
                const shared = {
                  id: `alike-${at}-${name}`,
                  value: row[name],
                  class: typed[at]?.[name] === undefined && at > 0 ? "followed" : "",
                  "aria-label": `${label}, line ${at + 1}`,
                  "aria-invalid": twice,
                  onKeyDown: (event: KeyboardEvent) => onKey(event, at, name),
                  onInput: (event: { currentTarget: { value: string } }) =>
                    change(at, name, event.currentTarget.value),
                };
                return (
                  <td key={name}>
                    {name === "handleAsReceived" ? (
                      <select {...shared}>
                        {handles.map((one) => (
                          <option key={one} value={one}>
                            {one === "" ? "not known" : one}
                          </option>
                        ))}
                      </select>
                    ) : (
                      <input
                        {...shared}
                        autoComplete="off"
                        onFocus={(event) => event.currentTarget.select()}
                      />
                    )}
                    {twice && <p class="field-problem">also in line {labels.indexOf(row.label) + 1}</p>}
                  </td>
                );
              })}
              <td>
                <button
                  type="button"
                  class="quiet"
                  aria-label={`Take line ${at + 1} away`}
                  disabled={whole.length === 1}
                  onClick={() => onChange(typed.filter((_, other) => other !== at))}
                >
                  ×
                </button>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
