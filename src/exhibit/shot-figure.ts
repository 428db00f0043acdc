import { scaleLinear } from "d3-scale";
import { line as pathLine } from "d3-shape";
import type { ShotFigureData } from "../contract/exhibit-figures.ts";
import { formatAmps } from "../core/units/format-amps.ts";
import { formatSeconds } from "../core/units/format-seconds.ts";
import { bottomAxis, type Frame, leftAxis, line } from "./_axis.ts";
import { hatch } from "./_hatch.ts";
import { ink } from "./_ink.ts";
import { boxesAlong, placedLabels, type Wish } from "./_labels.ts";
import { heading, noteBlock } from "./_paragraph.ts";
import { element, svgDocument } from "./_svg.ts";
import { fitText, textLine } from "./_text.ts";
import { linearTimes } from "./_ticks.ts";

const width = 800;
const plotHeight = 340;
const readingColumns = 2;

const endWords: Readonly<Record<ShotFigureData["outcome"], string>> = {
  tripped: "opening",
  held: "current ended, no trip",
  interrupted: "interrupted",
};

/**
 * Current against time of one shot as SVG, with onset and end marked, the time between them as a measure, target and effective
 * current as levels, limits as upright lines, and the numbers read from it below. Time counts from the onset where it is known.
 *
 * @throws RangeError if the trace is empty or its times do not rise, or a value is not finite
 */
export function shotFigure(data: ShotFigureData): string {
  checkTrace(data);
  const head = heading(data.title, data.subject, 16, width - 32);
  const frame = { left: 76, right: width - 24, top: head.height + 52, bottom: head.height + 52 + plotHeight };
  const zero = data.onsetSeconds ?? 0;
  const times = data.trace.t.map((seconds) => seconds - zero);
  const limits = data.limits.map(({ seconds }) => (data.onsetSeconds === null ? 0 : seconds));
  const end = data.endSeconds === null ? 0 : data.endSeconds - zero;
  const from = Math.min(0, times[0] ?? 0);
  const to = Math.max(times.at(-1) ?? 0, end, ...limits);
  const margin = Math.max((to - from) * 0.03, 1e-3);
  const x = scaleLinear()
    .domain([from - margin, to + margin])
    .range([frame.left, frame.right]);
  const amps = data.trace.amps.filter((value) => value !== null);
  const highest = Math.max(...amps, data.targetAmps, data.effectiveAmps ?? 0) * 1.18;
  const lowest = Math.min(0, ...amps) * 1.1;
  const y = scaleLinear().domain([lowest, highest]).range([frame.bottom, frame.top]);
  const path = pathLine<[number, number | null]>(
    ([seconds]) => x(seconds),
    ([, value]) => y(value ?? 0),
  )
    .defined(([, value]) => value !== null)
    .digits(2);

  const readingsTop = frame.bottom + 62;
  const rows = Math.ceil(data.readings.length / readingColumns);
  const notesTop = readingsTop + rows * 18;
  const notes = noteBlock(notesOf(data), 16, notesTop, width - 32);
  return svgDocument(
    { width, height: notesTop + notes.height + 8 },
    { title: data.title, description: shotFigureWords(data) },
    [
      ...head.markup,
      ...leftAxis(
        frame,
        y.ticks(6).map((value) => ({ at: y(value), label: formatAmps(value) })),
        "current",
      ),
      ...bottomAxis(
        frame,
        linearTimes([x.domain()[0] ?? 0, x.domain()[1] ?? 1], 8).map(({ seconds, label }) => ({
          at: x(seconds),
          label,
        })),
        data.onsetSeconds === null ? "time since the recording began" : "time since the onset of current",
      ),
      ...gapStrips(times, data.trace.amps, x, frame),
      ...levels(data, frame, y),
      element("path", {
        d: path(times.map((seconds, i) => [seconds, data.trace.amps[i] ?? null])) ?? "",
        fill: "none",
        stroke: ink.mark,
        "stroke-width": 1.4,
        "stroke-linejoin": "round",
      }),
      ...marks(data, frame, x, zero),
      ...levelWords(data, frame, y, x, zero),
      ...data.readings.flatMap(({ name, value }, i) => {
        const left = 16 + Math.floor(i / rows) * ((width - 32) / readingColumns);
        const base = readingsTop + (i % rows) * 18;
        return [
          textLine(left, base, fitText(name, 180), { fill: ink.soft }),
          textLine(left + 190, base, fitText(value, 190, 12, true), { bold: true }),
        ];
      }),
      ...notes.markup,
    ],
  );
}

function checkTrace({ trace }: ShotFigureData): void {
  if (trace.t.length === 0 || trace.t.length !== trace.amps.length)
    throw new RangeError(
      `expected a trace with as many currents as times but found ${trace.amps.length} and ${trace.t.length}`,
    );
  trace.t.forEach((seconds, i) => {
    const before = trace.t[i - 1];
    if (!Number.isFinite(seconds) || (before !== undefined && seconds < before))
      throw new RangeError(`expected rising times but trace.t[${i}] is ${seconds} after ${before}`);
  });
}

/** A light hatching where samples are missing, so that no level line is taken for the trace. */
function gapStrips(
  times: readonly number[],
  amps: readonly (number | null)[],
  x: (seconds: number) => number,
  { top, bottom }: Frame,
): string[] {
  return amps.flatMap((value, i) => {
    if (value !== null || (i > 0 && amps[i - 1] === null)) return [];
    const next = amps.findIndex((later, at) => at > i && later !== null);
    const left = x(times[Math.max(0, i - 1)] ?? 0);
    const right = x(times[next === -1 ? times.length - 1 : next] ?? 0);
    const corners = [
      [left, top],
      [right, top],
      [right, bottom],
      [left, bottom],
    ] as const;
    return [hatch(corners, 6)];
  });
}

function levels(
  { targetAmps, effectiveAmps }: ShotFigureData,
  frame: Frame,
  y: (amps: number) => number,
): string[] {
  const level = (amps: number, dash: string) =>
    line([frame.left, y(amps)], [frame.right, y(amps)], { dash, stroke: ink.line, width: 1.2 });
  return [level(targetAmps, "2 4"), effectiveAmps === null ? "" : level(effectiveAmps, "9 4")];
}

function levelWords(
  data: ShotFigureData,
  frame: Frame,
  y: (amps: number) => number,
  x: (seconds: number) => number,
  zero: number,
): string[] {
  const at = x((data.endSeconds ?? data.trace.t.at(-1) ?? 0) - zero);
  const middle = (frame.left + at) / 2;
  const wishes: Wish[] = [
    {
      x: middle,
      y: y(data.targetAmps),
      text: `target ${formatAmps(data.targetAmps)} (dotted)`,
      reach: 2,
    },
  ];
  if (data.effectiveAmps !== null) {
    const words = `effective ${formatAmps(data.effectiveAmps)} over the on-time (dashed)`;
    wishes.push({ x: middle, y: y(data.effectiveAmps), text: words, reach: 2 });
  }
  const trace = data.trace.amps.slice(1).flatMap((amps, i) => {
    const before = data.trace.amps[i] ?? null;
    if (amps === null || before === null) return [];
    const at = (index: number, value: number) => [x((data.trace.t[index] ?? 0) - zero), y(value)] as const;
    return boxesAlong([at(i, before), at(i + 1, amps)]);
  });
  const drawn = [data.targetAmps, data.effectiveAmps ?? data.targetAmps].map((amps) => ({
    left: frame.left,
    right: frame.right,
    top: y(amps) - 1,
    bottom: y(amps) + 1,
  }));
  return placedLabels(wishes, [...drawn, ...trace], frame);
}

/** Onset, end, the measure between them, and limits. */
function marks(data: ShotFigureData, frame: Frame, x: (seconds: number) => number, zero: number): string[] {
  const upright = (at: number, label: string, row: number, style: { dash?: string; width: number }) => {
    const inLeftHalf = at < (frame.left + frame.right) / 2;
    const top = frame.top - 4 - row * 15;
    return [
      line([at, top], [at, frame.bottom], { stroke: ink.mark, ...style }),
      textLine(at + (inLeftHalf ? 4 : -4), top + 8, fitText(label, (frame.right - frame.left) / 2 - 10, 11), {
        size: 11,
        anchor: inLeftHalf ? "start" : "end",
        plate: true,
      }),
    ];
  };
  const onset = data.onsetSeconds === null ? null : x(0);
  const end = data.endSeconds === null ? null : x(data.endSeconds - zero);
  const parts: string[] = [];
  if (onset !== null) {
    data.limits.forEach(({ seconds, label }, i) => {
      parts.push(...upright(x(seconds), label, i % 2, { width: 2.2, dash: "10 3" }));
    });
    parts.push(...upright(onset, "onset", 0, { width: 1.2 }));
  }
  if (end !== null) parts.push(...upright(end, endWords[data.outcome], 2, { width: 1.2 }));
  if (onset !== null && end !== null && end > onset)
    parts.push(...measure(onset, end, frame, spanWords(data)));
  return parts;
}

function measure(from: number, to: number, frame: Frame, words: string): string[] {
  const y = frame.bottom - 18;
  const head = (at: number, side: number) =>
    line([at, y], [at + side * 6, y - 4], { stroke: ink.mark }) +
    line([at, y], [at + side * 6, y + 4], { stroke: ink.mark });
  const isWide = to - from > 90;
  return [
    line([from, y], [to, y], { stroke: ink.mark }),
    head(from, 1),
    head(to, -1),
    isWide
      ? textLine((from + to) / 2, y + 4, words, { anchor: "middle", bold: true, plate: true })
      : textLine(to + 8, y + 4, words, { bold: true, plate: true }),
  ];
}

function spanWords({ onsetSeconds, endSeconds }: ShotFigureData): string {
  return formatSeconds((endSeconds ?? 0) - (onsetSeconds ?? 0));
}

function notesOf(data: ShotFigureData): string[] {
  const gaps = data.trace.amps.some((amps) => amps === null) ? ["Hatched: samples are missing there."] : [];
  const noOnset = data.onsetSeconds === null ? ["The onset of the current is not in the recording."] : [];
  return [...gaps, ...noOnset, ...data.notes];
}

/** The shot in words, for readers who hear the figure. */
export function shotFigureWords(data: ShotFigureData): string {
  const span =
    data.onsetSeconds === null || data.endSeconds === null
      ? "Time between onset and end not known."
      : `From onset to ${endWords[data.outcome]} ${spanWords(data)}.`;
  const effective =
    data.effectiveAmps === null ? "" : ` Effective current ${formatAmps(data.effectiveAmps)}.`;
  const limits = data.limits.map(({ label }) => ` ${label}.`).join("");
  const readings = data.readings.map(({ name, value }) => ` ${name}: ${value}.`).join("");
  return `Current against time of one shot. Target ${formatAmps(data.targetAmps)}.${effective} ${span}${limits}${readings}`;
}
