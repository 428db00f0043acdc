import type { EntryBodies, MeasurementBasis } from "../../src/contract/ledger-entries.ts";
import { formatAmps } from "../../src/core/units/format-amps.ts";
import { formatMultiple } from "../../src/core/units/format-multiple.ts";
import { formatSeconds } from "../../src/core/units/format-seconds.ts";
import { formatWithUncertainty } from "../../src/core/units/format-with-uncertainty.ts";
import { celsiusWords } from "../words/quantities.ts";

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
  const seconds = reading.seconds ?? reading.heldSeconds;
  const expanded = reading.outcome === "tripped" ? (uncertainty?.expanded ?? null) : null;
  const rows: [string, string][] = [
    [
      reading.outcome === "tripped"
        ? "Time from the beginning of the current to the opening"
        : "Time under current, without a trip",
      `${formatWithUncertainty(seconds, expanded, "s")}${seconds > 120 ? `, that is ${formatSeconds(seconds)}` : ""}`,
    ],
  ];
  if (expanded !== null && uncertainty !== null)
    rows.push(["Coverage factor of that uncertainty", `k = ${uncertainty.k.toFixed(2)}`]);
  if (interval !== null)
    rows.push(["It must lie between", `${interval.lower.toFixed(4)} s and ${interval.upper.toFixed(4)} s`]);
  rows.push(
    ["Effective current (RMS over the time under current)", formatAmps(reading.effectiveAmps)],
    ["In percent of the rating", formatMultiple(reading.multiple)],
    ["Target", formatAmps(reading.targetAmps)],
    [
      "Lowest and highest current",
      `${formatAmps(reading.lowestAmps)} and ${formatAmps(reading.highestAmps)}`,
    ],
    ["Samples", String(reading.samples)],
    [
      "Air beside the specimen",
      closed.ambientCelsius === null ? "not known" : celsiusWords(closed.ambientCelsius),
    ],
  );
  if (closed.rigResult !== null)
    rows.push([
      "The rig's own result",
      `${closed.rigResult.outcome === "opened" ? "opened" : "not opened"}, ${formatSeconds(closed.rigResult.onTimeUs / 1e6)}, ${formatAmps(closed.rigResult.rmsMilliamps / 1000)}`,
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
