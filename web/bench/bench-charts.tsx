import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import type { LimitSetView, ShotLine, SpecimenView } from "../../src/contract/http.ts";
import { limitMarks } from "../../src/core/limits/limit-marks.ts";
import type { TestPoint } from "../../src/core/limits/limit-set.ts";
import { formatSeconds } from "../../src/core/units/format-seconds.ts";
import { ChartHost } from "../charts/chart-host.tsx";
import {
  type CurrentChart,
  type CurrentPicture,
  createCurrentChart,
  currentChartWords,
} from "../charts/current-chart.ts";
import {
  createTimeCurrentChart,
  type TimeCurrentChart,
  timeCurrentWords,
} from "../charts/time-current-chart.ts";
import { shotMarks } from "../charts/time-current-geometry.ts";
import { LimitNote, TimeCurrentKey } from "../charts/time-current-key.tsx";
import { type ClosedShot, live } from "../live/live.ts";
import { useStore } from "../live/store.ts";
import { limitLines } from "./time-stretches.ts";

const tailSeconds = 10;
/** Where the time axis ends before anything is chosen. */
const emptySpan = 60;

/** The picture of current against time as it stands now, for the test under way or the one that just ended. */
function currentPicture(
  point: TestPoint | null,
  endAtSeconds: number | null,
  ended: ClosedShot | null,
  wholeTest: boolean,
): CurrentPicture {
  const running = live.shot.get() !== null;
  const hasTrace = running || ended !== null;
  const last = hasTrace ? (live.trace.last()?.seconds ?? 0) : 0;
  const arrays = !hasTrace
    ? { seconds: [], amps: [] }
    : wholeTest
      ? live.trace.thinned()
      : live.trace.tail(tailSeconds);
  const span = Math.max(endAtSeconds ?? emptySpan, last) * 1.03;
  const opening = ended?.reading.seconds ?? null;
  return {
    ...arrays,
    targetAmps: point?.targetAmps ?? null,
    lines: [
      ...(point === null ? [] : limitLines(point.row.requirement)),
      ...(opening === null
        ? []
        : [{ seconds: opening, label: `opened after ${formatSeconds(opening)}`, style: "event" as const }]),
    ],
    from: wholeTest ? 0 : Math.max(0, last - tailSeconds),
    to: wholeTest ? span : Math.max(tailSeconds, last),
    live: running,
  };
}

/** Both charts of the bench: current against time, and the time-current chart with the limits and the live point. */
export function BenchCharts({
  specimen,
  point,
  limitSet,
  shots,
}: {
  specimen: SpecimenView | null;
  point: TestPoint | null;
  limitSet: LimitSetView | null;
  shots: readonly ShotLine[];
}) {
  const shot = useStore(live.shot);
  const closed = useStore(live.closed);
  const [wholeTest, setWholeTest] = useState(true);
  const ended = closed !== null && closed.shot.specimen.id === specimen?.id ? closed : null;
  const subject = shot ?? ended?.shot ?? null;
  const shown = subject?.point ?? point;
  const picture = () => currentPicture(shown, subject?.endAtSeconds ?? defaultEnd(shown), ended, wholeTest);
  const latestPicture = useRef(picture);
  latestPicture.current = picture;
  const current = useRef<CurrentChart | null>(null);
  const curve = useRef<TimeCurrentChart | null>(null);

  const details = subject?.specimen.details ?? specimen?.details ?? null;
  const curvePicture = useMemo(
    () => ({
      limits: details === null || limitSet === null ? [] : limitMarks(limitSet.set, details),
      shots: shotMarks(shots, ended?.shot.id ?? null),
    }),
    [details, limitSet, shots, ended],
  );
  const latestCurve = useRef(curvePicture);
  latestCurve.current = curvePicture;

  useEffect(() => current.current?.show(latestPicture.current()));
  useEffect(() => curve.current?.show(curvePicture), [curvePicture]);
  useEffect(
    () =>
      live.frames.onDraw(() => {
        current.current?.show(latestPicture.current());
        const running = live.shot.get();
        const flowing = live.flowing();
        curve.current?.showLive(
          running === null || flowing === null
            ? null
            : { multiple: flowing.amps / running.specimen.details.ratedAmps, seconds: flowing.seconds },
        );
      }),
    [],
  );

  return (
    <>
      <section class="panel chart-panel" aria-labelledby="current-title">
        <div class="panel-head">
          <h2 id="current-title">Current</h2>
          <fieldset class="choices" aria-label="Stretch of time shown">
            <button type="button" aria-pressed={wholeTest} onClick={() => setWholeTest(true)}>
              Whole test
            </button>
            <button type="button" aria-pressed={!wholeTest} onClick={() => setWholeTest(false)}>
              Last {tailSeconds} s
            </button>
          </fieldset>
        </div>
        <ChartHost
          make={createCurrentChart}
          words={currentChartWords(picture())}
          onReady={(chart) => {
            current.current = chart;
            chart.show(latestPicture.current());
          }}
        />
      </section>
      <section class="panel chart-panel" aria-labelledby="curve-title">
        <div class="panel-head">
          <h2 id="curve-title">Time and current</h2>
          <TimeCurrentKey />
        </div>
        <ChartHost
          make={createTimeCurrentChart}
          words={timeCurrentWords(curvePicture)}
          onReady={(chart) => {
            curve.current = chart;
            chart.show(latestCurve.current);
          }}
        />
        <LimitNote />
      </section>
    </>
  );
}

/** Until a test runs, the axis ends a little after the last limit. */
function defaultEnd(point: TestPoint | null): number | null {
  if (point === null) return null;
  return Math.max(...limitLines(point.row.requirement).map((line) => line.seconds)) * 1.1;
}
