import type { InstantaneousRow } from "../../src/core/limits/limit-set.ts";
import { ScrollFrame } from "../frame/scroll-frame.tsx";
import { SourceWords, StandingWords } from "./source-words.tsx";

const part = (fraction: number) => `${fraction > 0 ? "+" : ""}${Number((fraction * 100).toPrecision(4))} %`;

/** Tolerances of instantaneous trips: what is taken from what. */
export function InstantaneousTable({ rows }: { rows: readonly InstantaneousRow[] }) {
  return (
    <>
      <h3>Instantaneous trips</h3>
      <ScrollFrame words="Instantaneous trips">
        <table class="limit-rows">
          <thead>
            <tr>
              <th scope="col">Row</th>
              <th scope="col">Kind of trip</th>
              <th scope="col">Window</th>
              <th scope="col">Taken from</th>
              <th scope="col">Within</th>
              <th scope="col">Source</th>
              <th scope="col">Known</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <tr key={row.id}>
                <th scope="row">{row.id}</th>
                <td>{row.tripType}</td>
                <td class="tight">
                  {part(row.low)} to {part(row.high)}
                </td>
                <td>{row.takenFrom}</td>
                <td>{row.withinSeconds === undefined ? "not given" : `${row.withinSeconds} s`}</td>
                <td class="source">
                  <SourceWords source={row.source} />
                </td>
                <td>
                  <StandingWords source={row.source} />
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollFrame>
    </>
  );
}
