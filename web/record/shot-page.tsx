import { useMemo } from "preact/hooks";
import type { LimitSetView, ShotLine, ShotView, TraceView } from "../../src/contract/http.ts";
import { limitMarks } from "../../src/core/limits/limit-marks.ts";
import { formatMultiple } from "../../src/core/units/format-multiple.ts";
import { markingWords } from "../bench/specimen-chooser.tsx";
import { limitLines } from "../bench/time-stretches.ts";
import { ChartHost } from "../charts/chart-host.tsx";
import { type CurrentPicture, createCurrentChart, currentChartWords } from "../charts/current-chart.ts";
import { createTimeCurrentChart, timeCurrentWords } from "../charts/time-current-chart.ts";
import { shotMarks } from "../charts/time-current-geometry.ts";
import { LimitNote, TimeCurrentKey } from "../charts/time-current-key.tsx";
import { AmendedMark } from "../custody/amended-mark.tsx";
import { AmendmentsPanel } from "../custody/amendments-panel.tsx";
import { ReviewPanel } from "../custody/review-panel.tsx";
import { ProblemNote } from "../frame/problem-note.tsx";
import { routeTo } from "../routing.ts";
import { addresses } from "../server/resources.ts";
import { useResource } from "../server/use-resource.ts";
import { momentWords } from "../words/quantities.ts";
import { DemoMark } from "../words/result-badge.tsx";
import { loadingWords, operationWords } from "../words/state-words.ts";
import { BudgetTable } from "./budget-table.tsx";
import { LedgerFacts } from "./ledger-facts.tsx";
import { ReadingFacts } from "./reading-facts.tsx";
import { VerdictFacts } from "./verdict-facts.tsx";

/** Never more points than a screen can show, whatever the length of the test. */
const tracePoints = 4000;

/**
 * One test, whole: verdict, charts, reading, uncertainty, where each number comes from, its review, and its place in the ledger.
 * With `historyWanted` the page goes to what was amended of it.
 */
export function ShotPage({ id, historyWanted }: { id: string; historyWanted: boolean }) {
  const shot = useResource<ShotView>(addresses.shot(id));
  const view = shot.value;
  if (view === null)
    return (
      <div class="record">
        <a class="open" href={routeTo("record")}>
          All tests
        </a>
        <ProblemNote problem={shot.problem} />
        {shot.loading && <p class="empty">Reading the test.</p>}
      </div>
    );
  const { line, specimen } = view;
  const closed = view.closed?.body ?? null;
  return (
    <article class="record shot" aria-labelledby="shot-title">
      <nav aria-label="Back" class="shot-back">
        <a class="open" href={routeTo("record")}>
          All tests
        </a>
        <a class="open" href={routeTo("bench", line.specimen)}>
          {line.label} on the bench
        </a>
      </nav>
      <header class="shot-head">
        <h1 id="shot-title">
          {line.label}: {formatMultiple(line.multiple)} on {loadingWords(line.loading, line.poles)}{" "}
          {line.demo && <DemoMark />}
        </h1>
        <p>
          {markingWords(specimen)}
          <AmendedMark
            count={specimen.amendments}
            name={line.label}
            href={routeTo("custody", "specimen", line.specimen, "amendments")}
          />
          , <strong>{operationWords(line.state)}</strong> at this test
          <AmendedMark
            count={view.amendments}
            name={`test ${line.id}`}
            href={routeTo("record", line.id, "amendments")}
          />
          . Test {line.id}, begun {momentWords(line.openedAt)}
          {line.job === null ? "" : `. Job: ${line.job}`}.
        </p>
      </header>
      {closed === null ? (
        <p class="problem">This test is still under way, or it was cut off. It has no reading yet.</p>
      ) : (
        <VerdictFacts label={line.label} closed={closed} />
      )}
      <Pictures view={view} />
      {closed !== null && <ReadingFacts closed={closed} basis={view.opened.body.basis} />}
      {closed !== null && <BudgetTable uncertainty={closed.reading.uncertainty} />}
      <section class="panel" aria-labelledby="provenance-title">
        <h2 id="provenance-title">Where each number comes from</h2>
        <div class="table-frame">
          <table class="provenance">
            <thead>
              <tr>
                <th scope="col">What</th>
                <th scope="col">Value</th>
                <th scope="col">From</th>
              </tr>
            </thead>
            <tbody>
              {view.provenance.map((one) => (
                <tr key={one.what}>
                  <th scope="row">{one.what}</th>
                  <td>{one.value}</td>
                  <td>{one.from}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      </section>
      {view.amendments > 0 && <AmendmentsPanel about={{ kind: "shot", id }} wanted={historyWanted} />}
      {closed !== null && <ReviewPanel about={{ kind: "shot", id }} />}
      <LedgerFacts view={view} />
    </article>
  );
}

function Pictures({ view }: { view: ShotView }) {
  const { line, specimen, opened } = view;
  const trace = useResource<TraceView>(addresses.trace(line.id, tracePoints));
  const limitSet = useResource<LimitSetView>(addresses.limitSet(opened.body.limitSet));
  const shots = useResource<ShotLine[]>(addresses.shotsOf(line.specimen));
  const current = useMemo(() => recordedPicture(view, trace.value), [view, trace.value]);
  const curve = useMemo(
    () => ({
      limits: limitSet.value === null ? [] : limitMarks(limitSet.value.set, specimen.details),
      shots: shotMarks(shots.value ?? [], line.id),
    }),
    [limitSet.value, shots.value, specimen, line.id],
  );
  return (
    <div class="shot-charts">
      <section class="panel chart-panel" aria-labelledby="trace-title">
        <div class="panel-head">
          <h2 id="trace-title">Current</h2>
          <p class="hint">
            {trace.value === null
              ? ""
              : `${trace.value.samples} samples, ${trace.value.seconds.length} points drawn`}
          </p>
        </div>
        <ProblemNote problem={trace.problem} />
        {/* A new picture is a new chart: a record does not move. */}
        <ChartHost
          key={`${trace.value?.samples}`}
          make={createCurrentChart}
          words={currentChartWords(current)}
          onReady={(chart) => chart.show(current)}
        />
      </section>
      <section class="panel chart-panel" aria-labelledby="curve-title">
        <div class="panel-head">
          <h2 id="curve-title">Time and current</h2>
          <TimeCurrentKey />
        </div>
        <ChartHost
          key={`${curve.limits.length} ${curve.shots.length}`}
          make={createTimeCurrentChart}
          words={timeCurrentWords(curve)}
          onReady={(chart) => chart.show(curve)}
        />
        <LimitNote />
      </section>
    </div>
  );
}

/** The stored trace with its onset, its opening and the limits that lie within it. */
export function recordedPicture(view: Pick<ShotView, "opened">, trace: TraceView | null): CurrentPicture {
  const { row, targetAmps } = view.opened.body;
  const first = trace?.seconds[0] ?? 0;
  const last = trace?.seconds.at(-1) ?? 1;
  const room = Math.max((last - first) * 0.04, 0.01);
  const event = (seconds: number | null | undefined, label: string) =>
    seconds === null || seconds === undefined ? [] : [{ seconds, label, style: "event" as const }];
  return {
    seconds: trace?.seconds ?? [],
    amps: trace?.amps ?? [],
    targetAmps,
    lines: [
      ...event(trace?.onsetSeconds, "current begins"),
      ...event(trace?.openingSeconds, "breaker opens"),
      ...limitLines(row.requirement),
    ],
    from: Math.min(first, 0) - room,
    to: last + room,
    live: false,
  };
}
