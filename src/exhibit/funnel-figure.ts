import { scaleLinear } from "d3-scale";
import type { FunnelData } from "../contract/figures.ts";
import { bottomAxis, leftAxis, roomyTicks } from "./_axis.ts";
import { ink } from "./_ink.ts";
import { boxAround, boxesAlong, placedLabels } from "./_labels.ts";
import { mark } from "./_marks.ts";
import { heading, noteBlock } from "./_paragraph.ts";
import { element, pointList, svgDocument } from "./_svg.ts";
import { percentWords } from "./_ticks.ts";

const width = 800;
const plotHeight = 400;

/** Rates at which the axis of logits has its words, the more welcome first. */
const roundRates = [
  0.5, 0.1, 0.01, 0.9, 0.99, 0.2, 0.05, 0.02, 0.8, 0.95, 0.001, 0.999, 0.3, 0.7, 0.005, 0.002, 0.98, 0.0001,
  0.4, 0.6,
];

/**
 * Funnel plot as SVG: each study's rate on a log-odds axis with words in percent, its standard error downwards, and the funnel
 * in which studies about the pooled rate would lie.
 *
 * @throws RangeError if there is no study, a standard error is not positive, or a value is not finite
 */
export function funnelFigure(data: FunnelData): string {
  if (data.points.length === 0) throw new RangeError("a funnel needs at least one study but has none");
  for (const { label, logit, standardError } of data.points)
    if (!(standardError > 0 && Number.isFinite(standardError) && Number.isFinite(logit)))
      throw new RangeError(
        `${label}: expected a finite logit and a positive standard error but found ${logit}, ${standardError}`,
      );
  const head = heading(data.title, data.criterion, 16, width - 32);
  const frame = { left: 76, right: width - 28, top: head.height + 30, bottom: head.height + 30 + plotHeight };
  const deepest = Math.max(...data.points.map(({ standardError }) => standardError)) * 1.12;
  const logits = data.points.map(({ logit }) => logit);
  const half = data.centre === null ? 0 : data.z * deepest;
  const low = Math.min(...logits, (data.centre ?? Number.POSITIVE_INFINITY) - half) - 0.25;
  const high = Math.max(...logits, (data.centre ?? Number.NEGATIVE_INFINITY) + half) + 0.25;
  const x = scaleLinear().domain([low, high]).range([frame.left, frame.right]);
  const y = scaleLinear().domain([0, deepest]).range([frame.top, frame.bottom]);
  const across = axisRates(low, high)
    .map((rate) => ({ at: x(Math.log(rate / (1 - rate))), label: percentWords(rate) }))
    .filter(({ at }) => at >= frame.left && at <= frame.right);
  const notes = noteBlock(notesOf(data), 16, frame.bottom + 46, width - 32);
  const places = data.points.map((point) => ({ ...point, x: x(point.logit), y: y(point.standardError) }));
  const lines = funnelLines(data, deepest).map(({ points, dash }) => ({
    points: points.map(([logit, error]) => [x(logit), y(error)] as const),
    dash,
  }));
  return svgDocument(
    { width, height: frame.bottom + 46 + notes.height + 8 },
    { title: data.title, description: funnelWords(data) },
    [
      ...head.markup,
      ...bottomAxis(
        frame,
        roomyTicks(across, "across"),
        "failed, percent of those tested (axis even in log-odds)",
      ),
      ...leftAxis(
        frame,
        y.ticks(6).map((value) => ({ at: y(value), label: `${value}` })),
        "standard error of the log-odds, small at the top",
      ),
      ...lines.map(({ points, dash }) =>
        element("polyline", {
          points: pointList(points),
          fill: "none",
          stroke: ink.line,
          "stroke-dasharray": dash,
        }),
      ),
      ...places.map((point) => mark(point.marked === true ? "ring" : "disc", point.x, point.y, 5)),
      ...placedLabels(
        places.map(({ x, y, label, marked }) => ({
          x,
          y,
          text: marked === true ? `${label} †` : label,
          reach: 5,
        })),
        [
          ...places.map(({ x, y }) => boxAround(x, y, 5)),
          ...lines.flatMap(({ points }) => boxesAlong(points)),
        ],
        frame,
      ),
      ...notes.markup,
    ],
  );
}

/** Round rates; where the axis is too short for two of them, its own quarters. */
function axisRates(low: number, high: number): number[] {
  const rateAt = (logit: number) => 1 / (1 + Math.exp(-logit));
  const round = roundRates.filter((rate) => rate >= rateAt(low) && rate <= rateAt(high));
  if (round.length >= 2) return round;
  return [0.25, 0.5, 0.75].map((part) => Number(rateAt(low + part * (high - low)).toPrecision(2)));
}

function funnelLines({ centre, z }: FunnelData, deepest: number) {
  if (centre === null) return [];
  const side = (sign: number) => ({
    points: [
      [centre, 0],
      [centre + sign * z * deepest, deepest],
    ] as const,
    dash: "7 4",
  });
  const upright = {
    points: [
      [centre, 0],
      [centre, deepest],
    ] as const,
    dash: undefined,
  };
  return [side(-1), side(1), upright];
}

function notesOf(data: FunnelData): string[] {
  const marks =
    data.centre === null
      ? "No pooled rate, so no funnel is drawn."
      : `Upright line: pooled rate. Dashed: ${Number(data.z.toFixed(2))} standard errors to either side.`;
  const dagger = data.points.some(({ marked }) => marked)
    ? ["† and open: counted by another criterion."]
    : [];
  return [marks, ...dagger, ...data.notes];
}

/** The funnel in words, for readers who hear it. */
export function funnelWords(data: FunnelData): string {
  const rate = (logit: number) => percentWords(1 / (1 + Math.exp(-logit)));
  const points = data.points.map(
    (point) =>
      `${point.label}: ${rate(point.logit)}, standard error ${Number(point.standardError.toFixed(3))}.`,
  );
  const centre = data.centre === null ? "No pooled rate." : `Pooled rate ${rate(data.centre)}.`;
  return `Funnel plot, ${data.criterion}. ${centre} ${points.join(" ")}`;
}
