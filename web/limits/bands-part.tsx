import type { BandView } from "../../src/contract/band-schema.ts";
import type { EdgePoint } from "../../src/core/limits/band.ts";
import { formatSeconds } from "../../src/core/units/format-seconds.ts";
import { ProblemNote } from "../frame/problem-note.tsx";
import { addresses } from "../server/resources.ts";
import { useResource } from "../server/use-resource.ts";
import { momentWords } from "../words/quantities.ts";
import { BandForm } from "./band-form.tsx";
import { StandingWords } from "./source-words.tsx";

/** The lab's own time-current bands, digitised from published curves, and the form that adds one. */
export function BandsPart() {
  const bands = useResource<BandView[]>(addresses.bands);
  return (
    <>
      <section class="panel" aria-labelledby="bands-title">
        <h2 id="bands-title">Bands of this lab</h2>
        <ProblemNote problem={bands.problem} />
        {bands.value?.length === 0 && (
          <p>None yet. Where a specimen's own published curve is known, its band says more than a table.</p>
        )}
        {bands.value !== null && bands.value.length > 0 && (
          <div class="table-frame">
            <table>
              <thead>
                <tr>
                  <th scope="col">Band</th>
                  <th scope="col">Belongs to</th>
                  <th scope="col">Minimum edge</th>
                  <th scope="col">Maximum edge</th>
                  <th scope="col">Source</th>
                  <th scope="col">Added</th>
                </tr>
              </thead>
              <tbody>
                {bands.value.map(({ band, makeCode, typeCode, tableHash, addedAt }) => (
                  <tr key={band.id}>
                    <th scope="row">
                      {band.title}
                      <span class="cell-more">{band.id}</span>
                    </th>
                    <td>
                      {[makeCode, typeCode].filter((one) => one !== null).join(", ") ||
                        "used only where it is named"}
                    </td>
                    <td>{edgeWords(band.minimum, band.current)}</td>
                    <td>{edgeWords(band.maximum, band.current)}</td>
                    <td>
                      {[band.source.document, band.source.edition, band.source.clause]
                        .filter((one) => one !== null)
                        .join(", ")}
                      <span class="cell-more">
                        <StandingWords source={band.source} />
                      </span>
                    </td>
                    <td>
                      {momentWords(addedAt)}
                      <span class="hash">{tableHash.slice(0, 16)}…</span>
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
        )}
      </section>
      <BandForm onAdded={bands.reload} />
    </>
  );
}

function edgeWords(edge: readonly EdgePoint[], unit: BandView["band"]["current"]): string {
  const [first, last] = [edge[0], edge.at(-1)];
  if (first === undefined || last === undefined) return "no points";
  const point = ([current, seconds]: EdgePoint) =>
    `${unit === "amps" ? `${current} A` : `${current} × rating`} ${formatSeconds(seconds)}`;
  return `${edge.length} points, ${point(first)} to ${point(last)}`;
}
