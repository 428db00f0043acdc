import { ink } from "./_ink.ts";
import { element } from "./_svg.ts";
import { fitText, textLine, textSize, textWidth } from "./_text.ts";

/** Edges of the area in which data is drawn, in pixels. */
export interface Frame {
  left: number;
  top: number;
  right: number;
  bottom: number;
}

/** A place on an axis: its pixel and its words. */
export interface Tick {
  at: number;
  label: string;
}

/** A straight line. */
export function line(
  from: readonly [number, number],
  to: readonly [number, number],
  style: { stroke?: string; width?: number; dash?: string | undefined } = {},
): string {
  const { stroke = ink.line, width = 1, dash } = style;
  return element("line", {
    x1: from[0],
    y1: from[1],
    x2: to[0],
    y2: to[1],
    stroke,
    "stroke-width": width,
    "stroke-dasharray": dash,
  });
}

/** The axis under a frame with grid, ticks, their words and a title. It takes 40 pixels below the frame. */
export function bottomAxis(frame: Frame, ticks: readonly Tick[], title: string): string[] {
  return [
    ...ticks
      .filter(({ at }) => at > frame.left + 1)
      .map(({ at }) => line([at, frame.top], [at, frame.bottom], { stroke: ink.grid })),
    line([frame.left, frame.bottom], [frame.right, frame.bottom]),
    ...ticks.flatMap(({ at, label }) => [
      line([at, frame.bottom], [at, frame.bottom + 5]),
      textLine(at, frame.bottom + 18, label, { size: 11, anchor: "middle" }),
    ]),
    textLine((frame.left + frame.right) / 2, frame.bottom + 36, fitText(title, frame.right - frame.left), {
      anchor: "middle",
      fill: ink.soft,
    }),
  ];
}

/** The axis at the left of a frame with grid, ticks and their words; its title stands level above it. */
export function leftAxis(frame: Frame, ticks: readonly Tick[], title: string): string[] {
  return [
    ...ticks
      .filter(({ at }) => at < frame.bottom - 1)
      .map(({ at }) => line([frame.left, at], [frame.right, at], { stroke: ink.grid })),
    line([frame.left, frame.top], [frame.left, frame.bottom]),
    ...ticks.flatMap(({ at, label }) => [
      line([frame.left - 5, at], [frame.left, at]),
      textLine(frame.left - 8, at + 4, label, { size: 11, anchor: "end" }),
    ]),
    textLine(Math.max(8, frame.left - 60), frame.top - 10, fitText(title, frame.right - frame.left), {
      fill: ink.soft,
    }),
  ];
}

/** The ticks that have room: the first given win, those whose words would touch theirs are dropped. In order of place. */
export function roomyTicks(ticks: readonly Tick[], direction: "across" | "upwards"): Tick[] {
  const kept: Tick[] = [];
  const half = ({ label }: Tick) =>
    direction === "across" ? textWidth(label, 11) / 2 + 4 : textSize / 2 + 2;
  for (const tick of ticks) {
    if (kept.every((other) => Math.abs(other.at - tick.at) >= half(other) + half(tick))) kept.push(tick);
  }
  return kept.sort((a, b) => a.at - b.at);
}
