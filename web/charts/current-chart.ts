import uPlot from "uplot";
import "uplot/dist/uPlot.min.css";
import { formatAmps } from "../../src/core/units/format-amps.ts";
import { formatSeconds } from "../../src/core/units/format-seconds.ts";
import { type ChartInk, chartFont, chartInk, writeText } from "./chart-ink.ts";

/** An upright line in the chart of current: a time that matters, with its word. */
export interface TimeLine {
  seconds: number;
  label: string;
  style: "limit" | "event";
}

/** What is drawn: the trace, the target it should hold, the times that matter, and which stretch of time is shown. */
export interface CurrentPicture {
  seconds: ArrayLike<number>;
  amps: ArrayLike<number | null>;
  targetAmps: number | null;
  lines: readonly TimeLine[];
  from: number;
  to: number;
  /** Drawn in the colour of live current. */
  live: boolean;
}

/** Chart of current (true RMS) against time. */
export interface CurrentChart {
  show(picture: CurrentPicture): void;
  resize(width: number, height: number): void;
  destroy(): void;
}

const emptyPicture: CurrentPicture = {
  seconds: [],
  amps: [],
  targetAmps: null,
  lines: [],
  from: 0,
  to: 60,
  live: false,
};

/** Stretches without samples, in canvas pixels. Live traces carry no nulls: a step far over the usual one is a gap. */
function gapsOf(chart: uPlot, first: number, last: number, nullGaps: uPlot.Series.Gaps): uPlot.Series.Gaps {
  const seconds = chart.data[0];
  const count = seconds.length;
  if (count < 3) return nullGaps;
  const usual = ((seconds[count - 1] ?? 0) - (seconds[0] ?? 0)) / (count / 2);
  const longest = Math.max(0.25, 3 * usual);
  const gaps: uPlot.Series.Gaps = [...nullGaps];
  for (let i = Math.max(1, first); i <= last; i++) {
    const before = seconds[i - 1] ?? 0;
    const after = seconds[i] ?? 0;
    if (after - before > longest)
      gaps.push([chart.valToPos(before, "x", true), chart.valToPos(after, "x", true)]);
  }
  return gaps.sort((a, b) => a[0] - b[0]);
}

/** Steps of the time axis, so that minutes and hours are cut into round parts. */
const timeSteps = [
  0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 30, 60, 120, 300, 600, 1200, 1800,
  3600, 7200, 14_400, 36_000,
];

/** A place on the time axis, in the unit that suits the whole span. */
export function timeTickWords(seconds: number, span: number): string {
  if (span <= 240) return `${Number(seconds.toFixed(4))} s`;
  return span <= 14_400
    ? `${Number((seconds / 60).toFixed(2))} min`
    : `${Number((seconds / 3600).toFixed(2))} h`;
}

function highest(amps: ArrayLike<number | null>): number {
  let most = 0;
  for (let i = 0; i < amps.length; i++) most = Math.max(most, amps[i] ?? 0);
  return most;
}

/** Makes the chart inside `host`. */
export function createCurrentChart(host: HTMLElement): CurrentChart {
  const ink = chartInk();
  let picture = emptyPicture;
  const axis = {
    stroke: ink.soft,
    grid: { stroke: ink.faint, width: 1 },
    ticks: { stroke: ink.line, width: 1 },
  };
  const chart = new uPlot(
    {
      width: Math.max(host.clientWidth, 100),
      height: Math.max(host.clientHeight, 80),
      padding: [10, 16, 0, 0],
      legend: { show: false },
      cursor: { drag: { x: false, y: false }, points: { show: false } },
      scales: {
        x: { time: false, range: () => [picture.from, picture.to] },
        y: {
          range: () => {
            const top = Math.max((picture.targetAmps ?? 0) * 1.3, highest(picture.amps) * 1.12);
            return [0, top > 0 ? top : 10];
          },
        },
      },
      series: [
        {},
        {
          stroke: () => (picture.live ? ink.live : ink.trace),
          width: 1.6,
          points: { show: false },
          spanGaps: false,
          gaps: (self, _series, first, last, nullGaps) => gapsOf(self, first, last, nullGaps),
        },
      ],
      axes: [
        {
          ...axis,
          font: chartFont(12),
          label: "time since the current began",
          incrs: timeSteps,
          values: (_self, splits) => splits.map((split) => timeTickWords(split, picture.to - picture.from)),
          labelSize: 20,
          size: 34,
          labelFont: chartFont(12),
          labelGap: 0,
        },
        {
          ...axis,
          font: chartFont(12),
          label: "A, true RMS",
          labelSize: 20,
          size: 48,
          labelFont: chartFont(12),
        },
      ],
      hooks: { draw: [(self) => drawMarks(self, picture, ink)] },
    },
    [[], []],
    host,
  );
  return {
    show(next) {
      picture = next;
      chart.setData([next.seconds, next.amps] as unknown as uPlot.AlignedData, true);
    },
    resize: (width, height) => chart.setSize({ width, height }),
    destroy: () => chart.destroy(),
  };
}

function drawMarks(chart: uPlot, picture: CurrentPicture, ink: ChartInk): void {
  const { ctx, bbox } = chart;
  const dot = devicePixelRatio;
  ctx.save();
  ctx.beginPath();
  ctx.rect(bbox.left, bbox.top, bbox.width, bbox.height);
  ctx.clip();
  ctx.font = chartFont(12);
  ctx.textBaseline = "middle";
  if (picture.targetAmps !== null) {
    const y = chart.valToPos(picture.targetAmps, "y", true);
    stroke(ctx, [bbox.left, y], [bbox.left + bbox.width, y], ink.soft, dot, [2 * dot, 4 * dot]);
    ctx.textAlign = "left";
    writeText(
      ctx,
      `target ${formatAmps(picture.targetAmps)}`,
      bbox.left + 8 * dot,
      y + 12 * dot,
      ink.ink,
      ink.panel,
    );
  }
  let rowY = bbox.top + 10 * dot;
  for (const line of picture.lines) {
    if (line.seconds < picture.from || line.seconds > picture.to) continue;
    const x = chart.valToPos(line.seconds, "x", true);
    const dash = line.style === "limit" ? [] : [6 * dot, 4 * dot];
    stroke(
      ctx,
      [x, bbox.top],
      [x, bbox.top + bbox.height],
      line.style === "limit" ? ink.limit : ink.ink,
      (line.style === "limit" ? 2.2 : 1.4) * dot,
      dash,
    );
    const leftHalf = x < bbox.left + bbox.width / 2;
    ctx.textAlign = leftHalf ? "left" : "right";
    writeText(ctx, line.label, x + (leftHalf ? 6 : -6) * dot, rowY, ink.ink, ink.panel);
    rowY += 16 * dot;
  }
  ctx.restore();
}

function stroke(
  context: CanvasRenderingContext2D,
  from: readonly [number, number],
  to: readonly [number, number],
  colour: string,
  width: number,
  dash: number[],
): void {
  context.beginPath();
  context.setLineDash(dash);
  context.lineWidth = width;
  context.strokeStyle = colour;
  context.moveTo(from[0], from[1]);
  context.lineTo(to[0], to[1]);
  context.stroke();
  context.setLineDash([]);
}

/** The picture in one sentence, for readers who hear the page. */
export function currentChartWords(picture: CurrentPicture): string {
  const last = picture.seconds[picture.seconds.length - 1];
  const target = picture.targetAmps === null ? "" : ` Target ${formatAmps(picture.targetAmps)}.`;
  const times = picture.lines.map((line) => `${line.label}: ${formatSeconds(line.seconds)}.`).join(" ");
  if (last === undefined) return `Chart of current against time: no samples yet.${target}`;
  return `Chart of current against time up to ${formatSeconds(last)}, highest ${formatAmps(highest(picture.amps))}.${target} ${times}`;
}
