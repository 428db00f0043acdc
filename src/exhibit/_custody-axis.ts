import { formatSeconds } from "../core/units/format-seconds.ts";
import { line } from "./_axis.ts";
import { type Drawing, layout } from "./_custody-layout.ts";
import { ink } from "./_ink.ts";
import type { Stretch } from "./_stretch-widths.ts";
import { element } from "./_svg.ts";
import { textLine } from "./_text.ts";
import { isDated } from "./_timeline-knots.ts";

const { names, left, right, inset, small } = layout;

/** The axis: each stretch in the style of how it is drawn, with its length; each moment with its day and time. */
export function custodyAxis(
  { chain, first, frame }: Drawing,
  stretches: readonly Stretch[],
  places: readonly number[],
): string[] {
  const y = frame.bottom;
  const moments = chain.knots.list.slice(first, first + places.length);
  const edge = (from: number, to: number) => line([from, y], [to, y], { stroke: ink.line, dash: "1 3" });
  return [
    edge(left, places[0] ?? left),
    edge(places.at(-1) ?? right, right),
    ...stretches.flatMap(({ width, drawn }, i) => {
      const [from, to] = [places[i] ?? left, (places[i] ?? left) + width];
      const middle = (from + to) / 2;
      const dash = drawn === "to scale" || drawn === "shortened" ? undefined : "1 3";
      const length = (moments[i + 1]?.seconds ?? 0) - (moments[i]?.seconds ?? 0);
      const words = length === 0 ? "same time" : length < 1 ? "< 1 s" : formatSeconds(Math.round(length));
      return [
        line([from, y], [to, y], { stroke: ink.mark, width: 1.4, dash }),
        drawn === "shortened" ? breakMark(middle, y) : "",
        drawn === "unknown"
          ? ""
          : textLine(middle, y + 16, words, { size: small, anchor: "middle", fill: ink.soft }),
      ];
    }),
    stretches.some(({ drawn }) => drawn !== "unknown")
      ? textLine(names, y + 16, "time between", { size: small, fill: ink.soft })
      : "",
    textLine(names, y + 32, isDated(moments[0]?.at ?? "") ? "observed, UTC" : "observed, year", {
      size: small,
      fill: ink.soft,
    }),
    ...moments.flatMap(({ at }, i) => {
      const place = places[i] ?? left;
      const style = { size: small, anchor: "middle" } as const;
      return [
        line([place, y - 3], [place, y + 7], { stroke: ink.mark }),
        textLine(place, y + 32, at.slice(0, 10), style),
        isDated(at) ? textLine(place, y + 44, at.slice(11, 16), style) : "",
      ];
    }),
  ];
}

/** Two slants across a line that is cut short. */
function breakMark(x: number, y: number): string {
  const plate = element("rect", { x: x - 4, y: y - 3, width: 8, height: 6, fill: ink.paper });
  const slant = (at: number) => line([at - 3, y + 6], [at + 3, y - 6], { stroke: ink.mark, width: 1.4 });
  return plate + slant(x - 4) + slant(x + 4);
}

/** An upright line at the first current and at the last test, and a short tick on the axis for each between. */
export function shotMarks(
  { chain: { data, knots }, first, last, x, frame }: Drawing,
  headingY: number,
): string[] {
  const isContinued = first > 0;
  const lines = knots.list.flatMap(({ isShot }, knot) => {
    if (!isShot || knot > last || knot < first || (isContinued && knot === first)) return [];
    const isFirst = knot === knots.firstCurrent?.knot;
    const style = { stroke: ink.mark, width: isFirst ? 2.2 : 1, dash: isFirst ? "6 3" : "2 3" };
    return [line([x(knot), headingY + 4], [x(knot), frame.bottom], style)];
  });
  const ticks = data.shots.flatMap(({ at }) => {
    if (!isDated(at)) return [];
    const seconds = Date.parse(at) / 1000;
    const after = knots.list.findIndex((knot, i) => i > first && i <= last && (knot.seconds ?? 0) >= seconds);
    const [low, high] = [knots.list[after - 1]?.seconds ?? null, knots.list[after]?.seconds ?? null];
    if (after < 1 || low === null || high === null || low >= seconds || high === seconds) return [];
    const from = after - 1 === first && isContinued ? left + inset : x(after - 1);
    const place = from + ((seconds - low) / (high - low)) * (x(after) - from);
    return [line([place, frame.bottom - 9], [place, frame.bottom], { stroke: ink.mark, width: 1.2 })];
  });
  return [...lines, ...ticks];
}
