import type { CalibrationView } from "../../src/contract/calibration-schema.ts";
import { WarningGlyph } from "../frame/banners.tsx";
import { ProblemNote } from "../frame/problem-note.tsx";
import { addresses } from "../server/resources.ts";
import { useResource } from "../server/use-resource.ts";
import { CalibrationForm } from "./calibration-form.tsx";

/** Calibration records of the rig and its instruments with what each is today, and the form that adds one. */
export function CalibrationsPart() {
  const records = useResource<CalibrationView[]>(addresses.calibrations);
  return (
    <>
      <section class="panel" aria-labelledby="calibrations-title">
        <h2 id="calibrations-title">Calibrations</h2>
        <ProblemNote problem={records.problem} />
        {records.value?.length === 0 && (
          <p>None is recorded: uncertainties rest on working values, and every test says so.</p>
        )}
        {records.value !== null && records.value.length > 0 && (
          <div class="table-frame">
            <table>
              <thead>
                <tr>
                  <th scope="col">Today</th>
                  <th scope="col">Instrument</th>
                  <th scope="col">Measures</th>
                  <th scope="col">Certificate</th>
                  <th scope="col">Calibrated</th>
                  <th scope="col">Due</th>
                  <th scope="col">U</th>
                </tr>
              </thead>
              <tbody>
                {records.value.map(({ record, state, recordedAt }) => (
                  <tr key={`${recordedAt} ${record.certificate} ${record.quantity}`}>
                    <td class={state === "past due" ? "abnormal" : ""}>
                      {state === "past due" && <WarningGlyph />} {state}
                    </td>
                    <th scope="row">
                      {record.instrument}
                      <span class="cell-more">serial {record.serial}</span>
                    </th>
                    <td>{record.quantity}</td>
                    <td>
                      {record.certificate}
                      <span class="cell-more">{record.issuer}</span>
                    </td>
                    <td class="tight">{record.on}</td>
                    <td class="tight">{record.due}</td>
                    <td>{uncertaintyWords(record)}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
        )}
      </section>
      <CalibrationForm onAdded={records.reload} />
    </>
  );
}

function uncertaintyWords({
  expandedPercent,
  expandedSeconds,
  points,
  k,
}: CalibrationView["record"]): string {
  const parts = [
    ...(expandedPercent === null ? [] : [`${expandedPercent} % of reading`]),
    ...(expandedSeconds === null ? [] : [`${expandedSeconds} s`]),
    ...(points.length === 0 ? [] : [`${points.length} points`]),
  ];
  return `${parts.join(", ") || "not given"}, k = ${k}`;
}
