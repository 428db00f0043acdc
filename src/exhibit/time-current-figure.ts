import { scaleLog } from "d3-scale";
import type { CurvePoint, DrawnBand, DrawnShot, TimeCurrentFigureData } from "../contract/exhibit-figures.ts";
import { tooLateEdge, tooSoonEdge } from "../core/limits/limit-marks.ts";
import { formatAmps } from "../core/units/format-amps.ts";
import { formatMultiple } from "../core/units/format-multiple.ts";
import { formatSeconds } from "../core/units/format-seconds.ts";
import { bottomAxis, type Frame, leftAxis, roomyTicks } from "./_axis.ts";
import { clipLine } from "./_clip-line.ts";
import { hatch } from "./_hatch.ts";
import { ink } from "./_ink.ts";
import { boxAround, boxesAlong, placedLabels, type Wish } from "./_labels.ts";
import { limitShape } from "./_limit-shape.ts";
import { heading, noteBlock } from "./_paragraph.ts";
import { shotShape } from "./_shot-shape.ts";
import { element, pointList, svgDocument } from "./_svg.ts";
import { roundLogValues, roundTimes, timeWords } from "./_ticks.ts";
import { checkTimeCurrent } from "./_time-current-check.ts";
import { timeCurrentNotes } from "./_time-current-notes.ts";

type Pixel = readonly [x: number, y: number];

const width = 800;
const plotHeight = 520;

/** Places in pixels of multiples and seconds. */
interface Plane {
  frame: Frame;
  x(multiple: number): number;
  y(seconds: number): number;
}

/**
 * Time-current figure as SVG, log-log, as for an exhibit: limits as bars with teeth on the forbidden side, bands as hatched
 * areas, measured times as discs with bars of uncertainty, shots that held as open circles with an arrow at the time held,
 * interrupted ones as crosses, the trip model as a line with dashed bounds; below it ambient, starting state, and whether the
 * limits are confirmed.
 *
 * @throws RangeError if the rated current, a current or a time is not positive, or bounds do not enclose their value
 */
export function timeCurrentFigure(data: TimeCurrentFigureData): string {
  checkTimeCurrent(data);
  const head = heading(data.title, data.subject, 16, width - 32);
  const frame = { left: 76, right: width - 24, top: head.height + 30, bottom: head.height + 30 + plotHeight };
  const plane = planeOf(data, frame);
  const notes = noteBlock(timeCurrentNotes(data), 16, frame.bottom + 46, width - 32);
  return svgDocument(
    { width, height: frame.bottom + 46 + notes.height + 8 },
    { title: data.title, description: timeCurrentFigureWords(data) },
    [
      ...head.markup,
      ...axes(data, plane),
      ...data.bands.map((band) => drawBand(band, data.ratedAmps, plane)),
      ...guides(data, plane),
      ...drawModel(data, plane),
      ...data.limits.map(({ multiple, seconds, edge, readInDocument }) =>
        limitShape(plane.x(multiple), plane.y(seconds), edge, readInDocument),
      ),
      ...data.shots.map((shot) => shotShape(shot, plane)),
      ...labels(data, plane),
      ...notes.markup,
    ],
  );
}

/** A band's points as multiples of the rating. */
function inMultiples(edge: readonly CurvePoint[], band: DrawnBand, ratedAmps: number): CurvePoint[] {
  return band.current === "multiple" ? [...edge] : edge.map(([amps, seconds]) => [amps / ratedAmps, seconds]);
}

function planeOf(data: TimeCurrentFigureData, frame: Frame): Plane {
  const points: CurvePoint[] = [
    ...data.limits.map(({ multiple, seconds }): CurvePoint => [multiple, seconds]),
    ...data.bands.flatMap((band) => inMultiples([...band.minimum, ...band.maximum], band, data.ratedAmps)),
    ...data.shots.flatMap(({ multiple, seconds, time, current }): CurvePoint[] => [
      [multiple, seconds],
      [current?.lower ?? multiple, time?.lower ?? seconds],
      [current?.upper ?? multiple, time?.upper ?? seconds],
    ]),
  ];
  const extent = points.length > 0 ? points : [...(data.model?.curve ?? [])];
  const multiples = [...extent.map(([multiple]) => multiple), 1, 2];
  const times = [...extent.map(([, seconds]) => seconds), 10, 1000];
  const x = scaleLog()
    .domain([Math.min(...multiples) / 1.6, Math.max(...multiples) * 1.8])
    .range([frame.left, frame.right]);
  const y = scaleLog()
    .domain([Math.min(...times) / 2.5, Math.max(...times) * 3.2])
    .range([frame.bottom, frame.top]);
  return { frame, x: (multiple) => x(multiple), y: (seconds) => y(seconds) };
}

function axes({ axis, ratedAmps, limits }: TimeCurrentFigureData, { frame, x, y }: Plane): string[] {
  const unit = axis === "amps" ? ratedAmps : 1;
  const within = (place: number, from: number, to: number) => place >= from - 0.01 && place <= to + 0.01;
  const tested = [...new Set(limits.map(({ multiple }) => multiple * unit))];
  const across = [...tested, ...roundLogValues([0.001 * unit, 1000 * unit])]
    .map((value) => ({
      at: x(value / unit),
      label: axis === "amps" ? formatAmps(value) : formatMultiple(value),
    }))
    .filter(({ at }) => within(at, frame.left, frame.right));
  const upwards = roundTimes([1e-5, 1e7])
    .map((seconds) => ({ at: y(seconds), label: timeWords(seconds) }))
    .filter(({ at }) => within(at, frame.top, frame.bottom));
  return [
    ...bottomAxis(
      frame,
      roomyTicks(across, "across"),
      axis === "amps"
        ? `current (rated ${formatAmps(ratedAmps)})`
        : `current, percent of the rated ${formatAmps(ratedAmps)}`,
    ),
    ...leftAxis(frame, roomyTicks(upwards, "upwards"), "time from onset to opening"),
  ];
}

function drawBand(band: DrawnBand, ratedAmps: number, { x, y }: Plane): string {
  const place = ([multiple, seconds]: CurvePoint): Pixel => [x(multiple), y(seconds)];
  const lower = inMultiples(band.minimum, band, ratedAmps).map(place);
  const upper = inMultiples(band.maximum, band, ratedAmps).map(place);
  const edge = (points: readonly Pixel[]) =>
    element("polyline", { points: pointList(points), fill: "none", stroke: ink.line, "stroke-width": 1.2 });
  return hatch([...lower, ...upper.toReversed()]) + edge(lower) + edge(upper);
}

/** Staircases between the limits, which only guide the eye. */
function guides({ limits }: TimeCurrentFigureData, { frame, x, y }: Plane): string[] {
  const sorted = [...limits].sort((a, b) => a.multiple - b.multiple || a.seconds - b.seconds);
  return [tooLateEdge(sorted, 1e6), tooSoonEdge(sorted, 1e-6)].flatMap((corners) =>
    clipLine(
      corners.map(([multiple, seconds]): Pixel => [x(multiple), y(seconds)]),
      frame,
    ).map((piece) =>
      element("polyline", {
        points: pointList(piece),
        fill: "none",
        stroke: ink.line,
        "stroke-width": 0.9,
        "stroke-dasharray": "1.5 3",
      }),
    ),
  );
}

function drawModel({ model }: TimeCurrentFigureData, plane: Plane): string[] {
  if (model === null) return [];
  const draw = (curve: readonly CurvePoint[], dash: string | undefined, thick: number) =>
    modelPieces(curve, plane).map((piece) =>
      element("polyline", {
        points: pointList(piece),
        fill: "none",
        stroke: ink.mark,
        "stroke-width": thick,
        "stroke-dasharray": dash,
      }),
    );
  return [
    ...draw(model.lower, "7 4", 0.9),
    ...draw(model.upper, "7 4", 0.9),
    ...draw(model.curve, undefined, 1.8),
  ];
}

function modelPieces(curve: readonly CurvePoint[], { frame, x, y }: Plane): Pixel[][] {
  return clipLine(
    curve.map(([multiple, seconds]): Pixel => [x(multiple), y(seconds)]),
    frame,
  );
}

function labels(data: TimeCurrentFigureData, plane: Plane): string[] {
  const { frame, x, y } = plane;
  const wishes: Wish[] = [
    ...data.limits.map(({ multiple, seconds, label, readInDocument }) => ({
      x: x(multiple),
      y: y(seconds),
      text: readInDocument ? label : `${label} *`,
      reach: 15,
    })),
    ...data.shots.map((shot) => ({
      x: x(shot.multiple),
      y: y(shot.seconds),
      text: shotLabel(shot),
      reach: 7,
    })),
    ...data.bands.flatMap((band): Wish[] => {
      const edge = inMultiples(band.maximum, band, data.ratedAmps);
      const at = edge[Math.floor(edge.length / 2)];
      return at === undefined ? [] : [{ x: x(at[0]), y: y(at[1]), text: band.label, reach: 3 }];
    }),
  ];
  const pieces = data.model === null ? [] : modelPieces(data.model.curve, plane);
  const modelAt = pieces.at(-1)?.at(-4) ?? pieces.at(-1)?.at(-1);
  if (data.model !== null && modelAt !== undefined)
    wishes.push({ x: modelAt[0], y: modelAt[1], text: data.model.label, reach: 3 });
  const marks = [
    ...data.shots.flatMap((shot) => {
      const [atX, atY] = [x(shot.multiple), y(shot.seconds)];
      const up =
        shot.outcome === "held" ? [{ left: atX - 4, right: atX + 4, top: atY - 30, bottom: atY }] : [];
      return [boxAround(atX, atY, 7), ...up];
    }),
    ...data.limits.map(({ multiple, seconds }) => ({
      ...boxAround(x(multiple), y(seconds), 8),
      left: x(multiple) - 15,
      right: x(multiple) + 15,
    })),
    ...[...pieces, ...bandEdges(data, plane)].flatMap(boxesAlong),
  ];
  return placedLabels(wishes, marks, frame);
}

function bandEdges({ bands, ratedAmps }: TimeCurrentFigureData, { x, y }: Plane): Pixel[][] {
  return bands.flatMap((band) =>
    [band.minimum, band.maximum].map((edge) =>
      inMultiples(edge, band, ratedAmps).map(([multiple, seconds]): Pixel => [x(multiple), y(seconds)]),
    ),
  );
}

function shotLabel({ label, outcome, seconds }: DrawnShot): string {
  const time = formatSeconds(seconds);
  const words = { tripped: time, held: `no trip in ${time}`, interrupted: `interrupted at ${time}` }[outcome];
  return label === "" ? words : `${label}: ${words}`;
}

/** The time-current figure in words, for readers who hear it. */
export function timeCurrentFigureWords(data: TimeCurrentFigureData): string {
  const at = (multiple: number) =>
    data.axis === "amps" ? formatAmps(multiple * data.ratedAmps) : formatMultiple(multiple);
  const limits = data.limits.map(({ multiple, label }) => `At ${at(multiple)}: ${label}.`);
  const shots = data.shots.map((shot) => `At ${at(shot.multiple)}: ${shotLabel(shot)}.`);
  const bands = data.bands.map(({ label }) => `Band: ${label}.`);
  const model = data.model === null ? [] : [`Model: ${data.model.label}.`];
  return `Time-current figure, both axes logarithmic. Limits: ${limits.length === 0 ? "none." : limits.join(" ")} Shots: ${shots.length === 0 ? "none." : shots.join(" ")} ${[...bands, ...model].join(" ")}`.trim();
}
