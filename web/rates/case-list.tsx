import { useState } from "preact/hooks";
import type { RateCase } from "../../src/contract/rates.ts";
import { moveWithArrows } from "../frame/move-with-arrows.ts";
import { ProblemNote } from "../frame/problem-note.tsx";
import { routeTo } from "../routing.ts";
import { addresses } from "../server/resources.ts";
import { useResource } from "../server/use-resource.ts";
import { ResultBadge } from "../words/result-badge.tsx";

type Counted = RateCase["counted"];
const atOnce = 100;
const kinds: readonly (readonly [Counted | "all", string])[] = [
  ["all", "All"],
  ["failed", "Failed"],
  ["passed", "Passed"],
  ["undetermined", "Undetermined"],
  ["excluded", "Excluded"],
  ["not counted", "Not counted"],
];
const badgeOf = {
  failed: "fail",
  passed: "pass",
  undetermined: "undetermined",
  excluded: "excluded",
} as const;

/** Every specimen with why it is in or out of the rate. */
export function CaseList({ asked }: { asked: string }) {
  const cases = useResource<RateCase[]>(addresses.rateSpecimens(asked));
  const [kind, setKind] = useState<Counted | "all">("all");
  const [shown, setShown] = useState(atOnce);
  const of = (one: Counted | "all") =>
    (cases.value ?? []).filter(({ counted }) => one === "all" || counted === one);
  const found = of(kind);
  return (
    <section class="panel" aria-labelledby="cases-title">
      <div class="panel-head">
        <h2 id="cases-title">Who is in, who is out, and why</h2>
        <fieldset class="choices" aria-label="Counted as">
          {kinds.map(([one, words]) => (
            <button key={one} type="button" aria-pressed={kind === one} onClick={() => setKind(one)}>
              {words} ({of(one).length})
            </button>
          ))}
        </fieldset>
      </div>
      <ProblemNote problem={cases.problem} />
      {found.length > 0 && (
        <div class="table-frame">
          <table class="lined">
            <thead>
              <tr>
                <th scope="col">Specimen</th>
                <th scope="col">Counted as</th>
                <th scope="col">Stratum</th>
                <th scope="col">Why</th>
                <th scope="col">Test</th>
              </tr>
            </thead>
            <tbody onKeyDown={moveWithArrows("a")}>
              {found.slice(0, shown).map((one) => (
                <tr key={`${one.specimen} ${one.stratum}`}>
                  <th scope="row">
                    <a class="open" href={routeTo("specimens", one.specimen)}>
                      {one.label}
                    </a>
                  </th>
                  <td>
                    {one.counted === "not counted" ? (
                      "not counted"
                    ) : (
                      <ResultBadge result={badgeOf[one.counted]} />
                    )}
                  </td>
                  <td>{one.stratum}</td>
                  <td>{one.why}</td>
                  <td>
                    {one.shot !== null && (
                      <a class="open" href={routeTo("record", one.shot)}>
                        {one.shot}
                      </a>
                    )}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
      {found.length > shown && (
        <button type="button" onClick={() => setShown(shown + atOnce)}>
          Show {Math.min(atOnce, found.length - shown)} more of {found.length}
        </button>
      )}
      {cases.value !== null && found.length === 0 && <p class="empty">None.</p>}
    </section>
  );
}
