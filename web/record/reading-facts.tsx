import type { EntryBodies, MeasurementBasis } from "../../src/contract/ledger-entries.ts";
import { ampsWords, celsiusWords, percentWords, secondsWords } from "../words/quantities.ts";

/** The reading in figures with their units. */
export function ReadingFacts({
  closed,
  basis,
}: {
  closed: EntryBodies["shot-closed"];
  basis: MeasurementBasis;
}) {
  const { reading } = closed;
  const { uncertainty, interval } = reading;
  const rows: [string, string][] = [
    [
      reading.outcome === "tripped"
        ? "Time from the beginning of the current to the opening"
        : "Time under current, without a trip",
      secondsWords(reading.seconds ?? reading.heldSeconds),
    ],
  ];
  if (interval !== null)
    rows.push(["It must lie between", `${interval.lower.toFixed(4)} s and ${interval.upper.toFixed(4)} s`]);
  if (uncertainty !== null)
    rows.push([
      "Expanded uncertainty of the time",
      `${secondsWords(uncertainty.expanded)} (k = ${uncertainty.k.toFixed(2)})`,
    ]);
  rows.push(
    ["Effective current (RMS over the time under current)", ampsWords(reading.effectiveAmps)],
    ["In percent of the rating", percentWords(reading.multiple)],
    ["Target", ampsWords(reading.targetAmps)],
    ["Lowest and highest current", `${ampsWords(reading.lowestAmps)} and ${ampsWords(reading.highestAmps)}`],
    ["Samples", String(reading.samples)],
    [
      "Air beside the specimen",
      closed.ambientCelsius === null ? "not known" : celsiusWords(closed.ambientCelsius),
    ],
  );
  if (closed.rigResult !== null)
    rows.push([
      "The rig's own result",
      `${closed.rigResult.outcome === "opened" ? "opened" : "not opened"}, ${secondsWords(closed.rigResult.onTimeUs / 1e6)}, ${ampsWords(closed.rigResult.rmsMilliamps / 1000)}`,
    ]);
  return (
    <section class="panel" aria-labelledby="reading-title">
      <h2 id="reading-title">Reading</h2>
      <dl class="facts facts-wide">
        {rows.map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
      <p class="hint">
        The uncertainty rests on: current {basis.currentPercent} % (k = {basis.currentK}), timer{" "}
        {basis.timerSeconds} s. {basis.from}.
      </p>
    </section>
  );
}
