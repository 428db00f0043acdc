import type { FitGroup, SpecimenFitView } from "../../src/contract/programme.ts";
import { formatMultiple } from "../../src/core/units/format-multiple.ts";
import { formatSeconds } from "../../src/core/units/format-seconds.ts";
import { routeTo } from "../routing.ts";

/** The trip model of a specimen's own tests: time constant and pick-up with their bounds, and what further test would help. */
export function ModelFacts({ view }: { view: SpecimenFitView }) {
  return (
    <>
      <p class="hint">
        t = τ ln((m² - p²) / (m² - m<sub>t</sub>²)) with lognormal scatter, fitted by maximum likelihood;
        tests that held count as longer than the time held. Bounds are profile-likelihood bounds.
      </p>
      <div class="table-frame">
        <table>
          <thead>
            <tr>
              <th scope="col">Tests</th>
              <th scope="col" class="number">
                Number
              </th>
              <th scope="col">Time constant τ</th>
              <th scope="col">
                Pick-up m<sub>t</sub>
              </th>
              <th scope="col" class="number">
                Scatter of ln t
              </th>
              <th scope="col">What the tests determine</th>
            </tr>
          </thead>
          <tbody>
            {view.groups.map((group) => (
              <Row key={group.loading} group={group} />
            ))}
          </tbody>
        </table>
      </div>
      {view.leftOut.length > 0 && (
        <>
          <h3>Tests that were not used</h3>
          <ul class="reasons">
            {view.leftOut.map(({ shot, why }) => (
              <li key={shot}>
                <a href={routeTo("record", shot)}>{shot}</a>: {why}
              </li>
            ))}
          </ul>
        </>
      )}
    </>
  );
}

function Row({ group }: { group: FitGroup }) {
  const { fit } = group;
  const name =
    group.loading === "pooled"
      ? "All loadings"
      : group.loading === "all"
        ? "All poles"
        : `Pole ${group.loading.slice(-1)}`;
  if (!fit.estimable)
    return (
      <tr>
        <th scope="row">{name}</th>
        <td class="number">{group.shots.length}</td>
        <td colSpan={3}>not estimable</td>
        <td>{fit.advice}</td>
      </tr>
    );
  const { bounds } = fit;
  return (
    <tr>
      <th scope="row">{name}</th>
      <td class="number">{group.shots.length}</td>
      <td>
        {fit.determined ? "" : "not determined; best fit "}
        {formatSeconds(fit.tau)}
        <span class="cell-more">{boundWords(bounds.tau, bounds.level, formatSeconds)}</span>
      </td>
      <td>
        {fit.determined ? "" : "not determined; best fit "}
        {formatMultiple(fit.pickup)}
        <span class="cell-more">{boundWords(bounds.pickup, bounds.level, (one) => formatMultiple(one))}</span>
      </td>
      <td class="number">{fit.sigma.toPrecision(3)}</td>
      <td>
        {fit.determined ? "Both are determined." : (fit.advice ?? "Not both are determined.")}
        <span class="cell-more">{group.chosen.criterion}</span>
      </td>
    </tr>
  );
}

/** Bounds in words; an end that the tests do not bound is said so. */
function boundWords(
  { lower, upper }: { lower: number | null; upper: number | null },
  level: number,
  words: (value: number) => string,
): string {
  const end = (value: number | null) => (value === null ? "no bound" : words(value));
  return `${level * 100} %: ${end(lower)} to ${end(upper)}`;
}
