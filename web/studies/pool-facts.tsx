import type { PoolView } from "../../src/contract/studies.ts";
import { figureWords, rangeWords, rateWords } from "../words/rate-words.ts";

/** The pooled rate with its bounds, where the next study is expected, and how much the studies differ. */
export function PoolFacts({ view }: { view: PoolView }) {
  const level = `${Number((view.confidence * 100).toPrecision(4))} %`;
  const rows: [string, string][] = [
    [
      "Pooled rate",
      view.pooled === null
        ? "not estimable"
        : `${rateWords(view.pooled.estimate)} (${level}: ${rangeWords(view.pooled)})`,
    ],
    ["Where the rate of a new study is expected", rangeWords(view.prediction)],
  ];
  if (view.hartungKnapp !== null) rows.push(["Hartung-Knapp interval", rangeWords(view.hartungKnapp)]);
  if (view.marginalMean !== null) rows.push(["Rate averaged over studies", rateWords(view.marginalMean)]);
  if (view.tau2 !== null)
    rows.push([
      "Variance between studies, of logits (tau²)",
      `${figureWords(view.tau2)}${view.tau2Bounds === null ? "" : `, ${figureWords(view.tau2Bounds.lower)} to ${view.tau2Bounds.upper === null ? "no bound" : figureWords(view.tau2Bounds.upper)}`}`,
    ]);
  if (view.correlation !== null) rows.push(["Correlation within a study", figureWords(view.correlation)]);
  if (view.q !== null)
    rows.push([
      "Heterogeneity Q",
      `${figureWords(view.q)} with ${view.qDegreesOfFreedom ?? "?"} degrees of freedom, p = ${figureWords(view.qP)}`,
    ]);
  if (view.i2 !== null)
    rows.push([
      "Share of variance between studies (I²), and H²",
      `${figureWords(view.i2)} %, ${figureWords(view.h2)}`,
    ]);
  if (view.smallStudy !== null) rows.push(["Small studies", view.smallStudy.words]);
  return (
    <>
      <dl class="facts facts-wide">
        {rows.map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
      {view.groups !== null && (
        <>
          <h3>Pooled apart</h3>
          <ul class="reasons">
            {view.groups.pooled.map((group) => (
              <li key={group.label}>
                <strong>{group.label}</strong>: {rateWords(group.estimate)} ({rangeWords(group)}),{" "}
                {group.studies} {group.studies === 1 ? "study" : "studies"}
              </li>
            ))}
            <li>{view.groups.words}</li>
          </ul>
        </>
      )}
    </>
  );
}
