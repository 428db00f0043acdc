import type { LimitRow } from "../../src/core/limits/limit-set.ts";
import { requirementWords } from "../../src/core/limits/requirement-words.ts";
import { formatMultiple } from "../../src/core/units/format-multiple.ts";
import { ScrollFrame } from "../frame/scroll-frame.tsx";
import { SourceWords, StandingWords } from "./source-words.tsx";

/** `above 30 to 50 A`: over is exclusive, to is inclusive. */
function rangeOf(over: number, to: number | null, unit: string): string {
  if (to === null) return over === 0 ? "any" : `above ${over} ${unit}`;
  if (over === to) return `${to} ${unit}`;
  return over === 0 ? `to ${to} ${unit}` : `above ${over} to ${to} ${unit}`;
}

function circumstances(row: LimitRow): string {
  const parts = [
    row.start === "cold" ? "cold" : `straight after ${row.start.after}`,
    row.ambient === null
      ? "ambient not given"
      : row.ambient.lowestCelsius === row.ambient.highestCelsius
        ? `${row.ambient.lowestCelsius} °C`
        : `${row.ambient.lowestCelsius} to ${row.ambient.highestCelsius} °C`,
  ];
  if (row.typeLetters !== undefined) parts.push(`type ${row.typeLetters.join(", ")}`);
  if (row.calibratedCelsius !== undefined) parts.push(`marked for ${row.calibratedCelsius} °C`);
  if (row.voltsOver !== undefined || row.voltsTo !== undefined)
    parts.push(rangeOf(row.voltsOver ?? 0, row.voltsTo ?? null, "V"));
  return parts.join("; ");
}

/** Every row of a limit set with its source, how well it is known, and whether the lab has confirmed it. */
export function RowTable({ rows, confirmed }: { rows: readonly LimitRow[]; confirmed: readonly string[] }) {
  return (
    <ScrollFrame words="Rows of the limit set">
      <table class="limit-rows">
        <thead>
          <tr>
            <th scope="col">Row</th>
            <th scope="col">Rated</th>
            <th scope="col">Current</th>
            <th scope="col">It must</th>
            <th scope="col">Poles, start, ambient</th>
            <th scope="col">Source</th>
            <th scope="col">Known</th>
            <th scope="col">This lab</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.id}>
              <th scope="row">{row.id}</th>
              <td>{rangeOf(row.ratedOverAmps, row.ratedToAmps, "A")}</td>
              <td>{formatMultiple(row.multiple)}</td>
              <td>
                {requirementWords(row.requirement)}
                {row.requirement.kind === "hold-for" && row.requirement.until !== undefined && (
                  <span class="cell-more">until {row.requirement.until}</span>
                )}
              </td>
              <td>
                {row.loading}
                <span class="cell-more">{circumstances(row)}</span>
              </td>
              <td class="source">
                <SourceWords source={row.source} />
              </td>
              <td>
                <StandingWords source={row.source} />
              </td>
              <td>{confirmed.includes(row.id) ? "✓ confirmed" : "not confirmed"}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollFrame>
  );
}
