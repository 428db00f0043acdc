import { scaleLinear } from "d3-scale";
import { curveStepAfter, line as pathLine } from "d3-shape";
import type { SurvivalFigureData } from "../contract/figures.ts";
import { formatSeconds } from "../core/units/format-seconds.ts";
import { bottomAxis, leftAxis, line } from "./_axis.ts";
import { dashOf, ink } from "./_ink.ts";
import { placedLabels } from "./_labels.ts";
import { heading, noteBlock } from "./_paragraph.ts";
import { element, svgDocument, svgNumber } from "./_svg.ts";
import { fitText, textLine, textWidth } from "./_text.ts";
import { linearTimes, percentWords } from "./_ticks.ts";

type Curve = SurvivalFigureData["curves"][number];
type Step = readonly [time: number, share: number];

const width = 800;
const plotHeight = 320;

/**
 * Kaplan-Meier curves as SVG: steps with their bounds as thin lines of the same dash, ticks where watching ended without a
 * trip, a name at each curve, and the numbers at risk below the axis.
 *
 * @throws RangeError if there is no curve, the lists of a curve differ in length, or a value lies outside its range
 */
export function survivalFigure(data: SurvivalFigureData): string {
  if (data.curves.length === 0)
    throw new RangeError("a survival figure needs at least one curve but has none");
  data.curves.forEach(checkCurve);
  const head = heading(data.title, data.criterion, 16, width - 32);
  const labelWidth = Math.min(
    170,
    Math.max(64, ...data.curves.map(({ label }) => textWidth(label, 11) + 30)),
  );
  const frame = {
    left: labelWidth + 16,
    right: width - 28,
    top: head.height + 30,
    bottom: head.height + 30 + plotHeight,
  };
  const longest = Math.max(...data.curves.map(({ lastTime }) => lastTime));
  const x = scaleLinear()
    .domain([0, longest > 0 ? longest * 1.04 : 1])
    .range([frame.left, frame.right]);
  const y = scaleLinear().domain([0, 1]).range([frame.bottom, frame.top]);
  const path = pathLine<Step>(
    ([time]) => x(time),
    ([, share]) => y(share),
  )
    .curve(curveStepAfter)
    .digits(2);

  const riskTop = frame.bottom + 64;
  const riskHeight = 18 * data.curves.length;
  const notes = noteBlock(notesOf(data), 16, riskTop + riskHeight + 4, width - 32);
  const drawSteps = (steps: readonly Step[], dash: string | undefined, thick: number) =>
    element("path", {
      d: path(steps) ?? "",
      fill: "none",
      stroke: thick > 1 ? ink.mark : ink.line,
      "stroke-width": thick,
      "stroke-dasharray": dash,
    });
  const wishes = data.curves.map((curve, i) => {
    const steps = survivalSteps(curve);
    // Each curve is named at another place along it, so that names do not gather at the end.
    const at = curve.lastTime * (0.88 - 0.22 * (i % 4));
    return { x: x(at), y: y(shareAt(steps, at)), text: curve.label, reach: 6 };
  });
  const parts = [
    ...head.markup,
    ...leftAxis(
      frame,
      [0, 0.2, 0.4, 0.6, 0.8, 1].map((share) => ({ at: y(share), label: percentWords(share) })),
      "not yet tripped",
    ),
    ...bottomAxis(
      frame,
      linearTimes([0, x.domain()[1] ?? 1], 8).map(({ seconds, label }) => ({ at: x(seconds), label })),
      data.xLabel,
    ),
    ...data.curves.flatMap((curve, i) => [
      ...boundSteps(curve, curve.lower).map((steps) => drawSteps(steps, dashOf(i), 0.8)),
      ...boundSteps(curve, curve.upper).map((steps) => drawSteps(steps, dashOf(i), 0.8)),
      drawSteps(survivalSteps(curve), dashOf(i), 2),
      ...curve.censored.map((time) => {
        const level = y(shareAt(survivalSteps(curve), time));
        return line([x(time), level - 6], [x(time), level + 6], { stroke: ink.mark, width: 1.4 });
      }),
    ]),
    ...placedLabels(
      wishes,
      data.curves.flatMap((curve) => inTheWay(curve, x, y)),
      frame,
    ),
    textLine(16, riskTop - 16, "at risk", { size: 11, fill: ink.soft }),
    ...data.curves.flatMap((curve, i) => [
      textLine(16, riskTop + i * 18, fitText(curve.label, labelWidth - 22, 11), { size: 11 }),
      ...curve.atRisk
        .filter(({ time }) => x(time) <= frame.right + 0.01)
        .map(({ time, n }) => textLine(x(time), riskTop + i * 18, `${n}`, { size: 11, anchor: "middle" })),
    ]),
  ];
  return svgDocument(
    { width, height: riskTop + riskHeight + 4 + notes.height + 8 },
    { title: data.title, description: survivalWords(data) },
    [...parts, ...notes.markup],
  );
}

function checkCurve({ label, time, survival, lower, upper, censored, lastTime }: Curve): void {
  if ([survival, lower, upper].some((list) => list.length !== time.length))
    throw new RangeError(
      `${label}: expected as many survival, lower and upper values as times but found ${survival.length}, ${lower.length}, ${upper.length} for ${time.length}`,
    );
  for (const at of [...time, ...censored, lastTime])
    if (!(at >= 0 && at <= lastTime && Number.isFinite(at)))
      throw new RangeError(`${label}: expected times from 0 to lastTime ${lastTime} but found ${at}`);
  for (const share of [...survival, ...lower, ...upper])
    if (share !== null && !(share >= 0 && share <= 1))
      throw new RangeError(`${label}: expected shares from 0 to 1 but found ${share}`);
}

function survivalSteps({ time, survival, lastTime }: Curve): Step[] {
  const steps = time.map((at, i): Step => [at, survival[i] ?? 0]);
  return [[0, 1], ...steps, [lastTime, steps.at(-1)?.[1] ?? 1]];
}

/** Stretches of a bound; it is absent before the first step and where it is null. */
function boundSteps({ time, lastTime }: Curve, bound: readonly (number | null)[]): Step[][] {
  const stretches: Step[][] = [];
  bound.forEach((share, i) => {
    if (share === null) return;
    const step: Step = [time[i] ?? 0, share];
    if ((bound[i - 1] ?? null) === null) stretches.push([step]);
    else stretches.at(-1)?.push(step);
    if ((bound[i + 1] ?? null) === null) stretches.at(-1)?.push([time[i + 1] ?? lastTime, share]);
  });
  return stretches;
}

function shareAt(steps: readonly Step[], time: number): number {
  return steps.findLast(([at]) => at <= time)?.[1] ?? 1;
}

/** Boxes along a curve, so that no name lies over it. */
function inTheWay(curve: Curve, x: (time: number) => number, y: (share: number) => number) {
  const steps = survivalSteps(curve);
  return steps.slice(1).flatMap(([time, share], i) => {
    const [before, level] = steps[i] ?? [0, 1];
    return [
      { left: x(before), right: x(time), top: y(level) - 2, bottom: y(level) + 2 },
      { left: x(time) - 2, right: x(time) + 2, top: y(level), bottom: y(share) },
    ];
  });
}

function notesOf(data: SurvivalFigureData): string[] {
  const marks = ["Steps: share that had not tripped by each time."];
  if (data.curves.some(({ lower }) => lower.some((bound) => bound !== null)))
    marks.push("Thin lines of the same style: bounds at each time.");
  if (data.curves.some(({ censored }) => censored.length > 0))
    marks.push("Upright ticks: current ended there without a trip.");
  return [marks.join(" "), ...data.notes];
}

/** The survival curves in words, for readers who hear them. */
export function survivalWords(data: SurvivalFigureData): string {
  const curves = data.curves.map((curve) => {
    const last = percentWords(curve.survival.at(-1) ?? 1);
    return `${curve.label}: ${svgNumber(curve.time.length)} steps, ${curve.censored.length} ended without a trip, ${last} not yet tripped at ${formatSeconds(curve.lastTime)}.`;
  });
  return `Kaplan-Meier curves, ${data.criterion}. ${curves.join(" ")}`;
}
