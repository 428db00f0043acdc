import uPlot from "uplot";
import "uplot/dist/uPlot.min.css";
import { type Corner, type LimitMark, tooLateEdge, tooSoonEdge } from "../../src/core/limits/limit-marks.ts";
import { formatMultiple } from "../../src/core/units/format-multiple.ts";
import { type ChartInk, chartFont, chartInk, writeText } from "./chart-ink.ts";
import {
  extentOf,
  joinNearLabels,
  multipleTicks,
  type ShotMark,
  secondTicks,
  spreadLabels,
  tickWords,
} from "./time-current-geometry.ts";

/** What the time-current chart shows. Multiples of the rating across, seconds upwards, both logarithmic. */
export interface TimeCurrentPicture {
  limits: readonly LimitMark[];
  shots: readonly ShotMark[];
}

/** Time-current chart with the live point. */
export interface TimeCurrentChart {
  show(picture: TimeCurrentPicture): void;
  /** The point of the shot under way, climbing; null when there is none. */
  showLive(point: { multiple: number; seconds: number } | null): void;
  resize(width: number, height: number): void;
  destroy(): void;
}

/** Makes the chart inside `host`. */
export function createTimeCurrentChart(host: HTMLElement): TimeCurrentChart {
  const ink = chartInk();
  let picture: TimeCurrentPicture = { limits: [], shots: [] };
  let extent = extentOf([], []);
  let livePoint: { multiple: number; seconds: number } | null = null;
  const axis = {
    stroke: ink.soft,
    font: chartFont(12),
    labelFont: chartFont(12),
    grid: { stroke: ink.faint, width: 1 },
    ticks: { stroke: ink.line, width: 1 },
  };
  const chart = new uPlot(
    {
      width: Math.max(host.clientWidth, 100),
      height: Math.max(host.clientHeight, 80),
      padding: [10, 16, 0, 0],
      legend: { show: false },
      cursor: { show: false },
      scales: {
        x: { time: false, distr: 3, range: () => extent.multiples },
        y: { distr: 3, range: () => extent.seconds },
      },
      series: [{}, { show: false }],
      axes: [
        {
          ...axis,
          label: "current, percent of the rating",
          labelSize: 20,
          size: 34,
          labelGap: 0,
          splits: () => multipleTicks(picture.limits, extent.multiples),
          filter: (_self, splits) => splits,
          values: (_self, splits) => splits.map((split) => formatMultiple(split)),
        },
        {
          ...axis,
          label: "time until it opens",
          labelSize: 20,
          size: 64,
          splits: () => secondTicks(extent.seconds),
          filter: (_self, splits) => splits,
          values: (_self, splits) => splits.map(tickWords),
        },
      ],
      hooks: {
        drawClear: [(self) => drawRegions(self, picture, extent, ink)],
        draw: [(self) => drawMarks(self, picture, livePoint, ink)],
      },
    },
    [
      [1, 2],
      [1, 1],
    ],
    host,
  );
  return {
    show(next) {
      picture = next;
      extent = extentOf(next.limits, next.shots);
      chart.setData([[...extent.multiples], [...extent.seconds]], true);
    },
    showLive(point) {
      if (point === null && livePoint === null) return;
      livePoint = point;
      chart.redraw(false, false);
    },
    resize: (width, height) => chart.setSize({ width, height }),
    destroy: () => chart.destroy(),
  };
}

type Extent = ReturnType<typeof extentOf>;
type Place = (corner: Corner) => [number, number];

function placer(chart: uPlot): Place {
  return ([multiple, seconds]) => [chart.valToPos(multiple, "x", true), chart.valToPos(seconds, "y", true)];
}

function clipToPlot(chart: uPlot): CanvasRenderingContext2D {
  const { ctx, bbox } = chart;
  ctx.save();
  ctx.beginPath();
  ctx.rect(bbox.left, bbox.top, bbox.width, bbox.height);
  ctx.clip();
  return ctx;
}

function drawRegions(chart: uPlot, picture: TimeCurrentPicture, extent: Extent, ink: ChartInk): void {
  const place = placer(chart);
  const [lowest, highest] = extent.multiples;
  const [bottom, top] = extent.seconds;
  const late = tooLateEdge(picture.limits, highest);
  const soon = tooSoonEdge(picture.limits, lowest);
  const ctx = clipToPlot(chart);
  const fill = (edge: readonly Corner[], outer: number, colour: string) => {
    const [first, last] = [edge[0], edge.at(-1)];
    if (first === undefined || last === undefined) return;
    ctx.beginPath();
    for (const corner of [...edge, [last[0], outer] as const, [first[0], outer] as const])
      ctx.lineTo(...place(corner));
    ctx.closePath();
    ctx.fillStyle = colour;
    ctx.fill();
  };
  fill(late, top, ink.late);
  fill(soon, bottom, ink.soon);
  ctx.restore();
}

function drawMarks(
  chart: uPlot,
  picture: TimeCurrentPicture,
  livePoint: { multiple: number; seconds: number } | null,
  ink: ChartInk,
): void {
  const place = placer(chart);
  const { bbox } = chart;
  const dot = devicePixelRatio;
  const ctx = clipToPlot(chart);
  ctx.textBaseline = "middle";
  drawRegionWords(ctx, chart, picture, ink);
  drawLimits(ctx, chart, picture.limits, place, ink);
  const shots = [...picture.shots].sort((a, b) => Number(b.chosen) - Number(a.chosen));
  const shotPlaces = shots.map((mark) => place([mark.multiple, mark.seconds]));
  const labels = joinNearLabels(
    shots.map(({ label }, i) => ({ x: shotPlaces[i]?.[0] ?? 0, y: shotPlaces[i]?.[1] ?? 0, label })),
    14 * dot,
  );
  // The chosen one comes first for its label and last for its place on top.
  for (let i = shots.length - 1; i >= 0; i--) {
    const [mark, spot] = [shots[i], shotPlaces[i]];
    if (mark !== undefined && spot !== undefined) drawShot(ctx, mark, labels[i] ?? "", spot, dot, ink);
  }
  if (livePoint !== null) {
    const seconds = Math.max(livePoint.seconds, chart.scales.y?.min ?? 0.001);
    const [x, y] = place([livePoint.multiple, seconds]);
    ctx.strokeStyle = ink.live;
    ctx.lineWidth = 2.5 * dot;
    ctx.beginPath();
    ctx.moveTo(x, bbox.top + bbox.height);
    ctx.lineTo(x, y);
    ctx.stroke();
    ctx.fillStyle = ink.live;
    ctx.beginPath();
    ctx.arc(x, y, 7 * dot, 0, 2 * Math.PI);
    ctx.fill();
    ctx.strokeStyle = ink.panel;
    ctx.lineWidth = 1.5 * dot;
    ctx.stroke();
  }
  ctx.restore();
}

function drawRegionWords(
  ctx: CanvasRenderingContext2D,
  chart: uPlot,
  picture: TimeCurrentPicture,
  ink: ChartInk,
): void {
  const { bbox } = chart;
  const dot = devicePixelRatio;
  ctx.font = chartFont(12, "600");
  ctx.fillStyle = ink.soft;
  if (picture.limits.some((mark) => mark.edge === "latest")) {
    ctx.textAlign = "right";
    ctx.fillText("too late: does not protect", bbox.left + bbox.width - 8 * dot, bbox.top + 12 * dot);
  }
  if (picture.limits.some((mark) => mark.edge === "earliest")) {
    ctx.textAlign = "left";
    ctx.fillText("too soon", bbox.left + 8 * dot, bbox.top + bbox.height - 12 * dot);
  }
}

function drawLimits(
  ctx: CanvasRenderingContext2D,
  chart: uPlot,
  limits: readonly LimitMark[],
  place: Place,
  ink: ChartInk,
): void {
  const { bbox } = chart;
  const dot = devicePixelRatio;
  const half = 12 * dot;
  ctx.font = chartFont(12);
  const places = limits.map((mark) => place([mark.multiple, mark.seconds]));
  // Labels stand on unshaded ground: below a latest time, left of an earliest one.
  const labelPlaces = spreadLabels(
    places.map(([, y], i) => y + (limits[i]?.edge === "latest" ? 13 * dot : 0)),
    15 * dot,
    bbox.top,
    bbox.top + bbox.height,
  );
  limits.forEach((mark, i) => {
    const [x, y] = places[i] ?? [0, 0];
    ctx.strokeStyle = ink.limit;
    ctx.lineWidth = 3 * dot;
    ctx.beginPath();
    ctx.moveTo(x - half, y);
    ctx.lineTo(x + half, y);
    // Short strokes on the side where a trip would be wrong.
    const away = (mark.edge === "latest" ? -1 : 1) * 6 * dot;
    for (const offset of [-half, 0, half]) {
      ctx.moveTo(x + offset, y);
      ctx.lineTo(x + offset, y + away);
    }
    ctx.stroke();
    const width = ctx.measureText(mark.label).width;
    const fitsLeft = x - half - 6 * dot - width > bbox.left;
    const beside = 9 * dot;
    const fitsRight = x + beside + width < bbox.left + bbox.width - 4 * dot;
    const leftOf = mark.edge === "earliest" && fitsLeft;
    ctx.textAlign = leftOf || !fitsRight ? "right" : "left";
    const labelX = leftOf ? x - half - 6 * dot : fitsRight ? x + beside : x - beside;
    writeText(ctx, mark.label, labelX, labelPlaces[i] ?? y, ink.ink, ink.panel);
  });
}

function drawShot(
  ctx: CanvasRenderingContext2D,
  mark: ShotMark,
  label: string,
  [x, y]: readonly [number, number],
  dot: number,
  ink: ChartInk,
): void {
  const size = (mark.chosen ? 7 : 5) * dot;
  const colour = mark.chosen ? ink.ink : ink.soft;
  ctx.strokeStyle = colour;
  ctx.lineWidth = (mark.chosen ? 2.4 : 1.8) * dot;
  ctx.beginPath();
  if (mark.shape === "interrupted") {
    ctx.moveTo(x, y - size);
    ctx.lineTo(x + size, y);
    ctx.lineTo(x, y + size);
    ctx.lineTo(x - size, y);
    ctx.closePath();
  } else ctx.arc(x, y, size, 0, 2 * Math.PI);
  ctx.fillStyle = mark.shape === "tripped" ? colour : ink.panel;
  ctx.fill();
  ctx.stroke();
  if (mark.shape !== "tripped") {
    const tip = y - size - 13 * dot;
    ctx.beginPath();
    ctx.moveTo(x, y - size);
    ctx.lineTo(x, tip);
    ctx.moveTo(x - 4 * dot, tip + 5 * dot);
    ctx.lineTo(x, tip);
    ctx.lineTo(x + 4 * dot, tip + 5 * dot);
    ctx.stroke();
  }
  if (label === "") return;
  ctx.font = chartFont(11);
  ctx.textAlign = "right";
  writeText(ctx, label, x - size - 4 * dot, y, colour, ink.panel);
}

/** The picture in sentences, for readers who hear the page. */
export function timeCurrentWords(picture: TimeCurrentPicture): string {
  const limits = picture.limits.map((mark) => `${formatMultiple(mark.multiple)}: ${mark.label}`).join("; ");
  const shots = picture.shots.length;
  return `Time-current chart, both axes logarithmic. Limits: ${limits === "" ? "none for this rating" : limits}. ${shots} ${shots === 1 ? "test" : "tests"} drawn.`;
}
