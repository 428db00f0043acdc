import type { CustodyLine } from "../contract/custody-schema.ts";
import type { CustodyTimelineData } from "../contract/exhibit-figures.ts";
import { formatSeconds } from "../core/units/format-seconds.ts";
import { type Chain, timelineWidth } from "./_custody-layout.ts";
import { custodyRegions, regionWords } from "./_custody-regions.ts";
import { custodyStrip, mostStretches, type Strip } from "./_custody-strip.ts";
import { isLateEvent } from "./_late-event.ts";
import { heading, noteBlock } from "./_paragraph.ts";
import { remarkLetter } from "./_remark-letter.ts";
import { svgDocument } from "./_svg.ts";
import { isDated, timelineKnots } from "./_timeline-knots.ts";
import { momentWords } from "./document-words.ts";

/** A page takes a figure of this height without making it smaller than it is wide. */
const highest = 900;
const noteWidth = timelineWidth - 32;
const stripGap = 14;

/** One sheet of a timeline, with its words for readers who hear it. */
export interface TimelineSheet {
  title: string;
  words: string;
  svg: string;
}

/**
 * A chain of custody as a timeline: UTC from left to right, a lane for each holder, every event as its number in the order of
 * what was observed, what lasted as a bar, gaps and overlaps in the lanes that they lie between. A long chain goes on in further
 * strips, and where they fill a page on further sheets. A chain without events has no sheet.
 *
 * @throws RangeError if an event was observed before the one above it
 */
export function custodyTimelineFigure(data: CustodyTimelineData): TimelineSheet[] {
  if (data.lines.length === 0) return [];
  checkOrder(data.lines);
  const knots = timelineKnots(data);
  const chain: Chain = { data, knots, regions: custodyRegions(data.lines, data.remarks, knots) };
  const sheets = sheetsOf(stripsOf(chain), chain);
  return sheets.map((strips, i) => {
    const title = sheets.length === 1 ? data.title : `${data.title} (sheet ${i + 1} of ${sheets.length})`;
    const words = sheetWords(strips, chain);
    return { title, words, svg: drawSheet(title, words, strips, chain) };
  });
}

function checkOrder(lines: readonly CustodyLine[]): void {
  lines.forEach(({ event, sequence }, i) => {
    const before = lines[i - 1];
    if (before !== undefined && before.event.observedAt > event.observedAt)
      throw new RangeError(
        `entry ${sequence}: expected events in the order of what was observed but found ${event.observedAt} after ${before.event.observedAt}`,
      );
  });
}

/** Strips of about equal length. Each begins with the moment that the one before ended with. */
function stripsOf(chain: Chain): Strip[] {
  const stretches = Math.max(1, chain.knots.list.length - 1);
  const count = Math.ceil(stretches / mostStretches);
  const each = Math.ceil(stretches / count);
  return Array.from({ length: count }, (_, i) =>
    custodyStrip(chain, i * each, Math.min((i + 1) * each, chain.knots.list.length - 1)),
  );
}

function sheetsOf(strips: readonly Strip[], chain: Chain): Strip[][] {
  const sheets: Strip[][] = [];
  for (const strip of strips) {
    const open = sheets.at(-1);
    if (open !== undefined && heightOf([...open, strip], chain) <= highest) open.push(strip);
    else sheets.push([strip]);
  }
  return sheets;
}

const head = (title: string, { data }: Chain) => heading(title, subjectOf(data), 16, noteWidth);
const notesAt = (strips: readonly Strip[], chain: Chain, top: number) =>
  noteBlock(notesOf(strips, chain), 16, top, noteWidth);

function heightOf(strips: readonly Strip[], chain: Chain): number {
  const drawn = strips.reduce((sum, { height }) => sum + height + stripGap, 0);
  // Room for the words that say which sheet it is.
  const top = head(`${chain.data.title} (sheet 99 of 99)`, chain).height;
  return top + drawn + notesAt(strips, chain, 0).height + 16;
}

function drawSheet(title: string, description: string, strips: readonly Strip[], chain: Chain): string {
  const top = head(title, chain);
  let y = top.height + 8;
  const drawn = strips.flatMap((strip) => {
    const markup = strip.markup(y);
    y += strip.height + stripGap;
    return markup;
  });
  const notes = notesAt(strips, chain, y - 4);
  return svgDocument({ width: timelineWidth, height: y + notes.height + 8 }, { title, description }, [
    ...top.markup,
    ...drawn,
    ...notes.markup,
  ]);
}

function subjectOf({ lines, shots }: CustodyTimelineData): string {
  const [first, last] = [lines[0], lines.at(-1)];
  const span = `${momentWords(first?.event.observedAt ?? "")} to ${momentWords(last?.event.observedAt ?? "")}`;
  return `${counted(lines.length, "event")}, ${lines.length === 1 ? momentWords(first?.event.observedAt ?? "") : span}; ${shots.length === 0 ? "no test" : counted(shots.length, "test")}`;
}

const counted = (n: number, noun: string): string => `${n} ${noun}${n === 1 ? "" : "s"}`;

function notesOf(strips: readonly Strip[], { data, knots, regions }: Chain): string[] {
  const events = strips.flatMap((strip) => strip.events);
  const told = regions.filter((region) => strips.some((strip) => strip.regions.includes(region)));
  const lines = events.map((i) => data.lines[i] as CustodyLine);
  const late = events.some((i) => isLateEvent(data.lines[i] as CustodyLine, regions, i));
  const isDrawn = (drawn: string) =>
    strips.some(({ stretches }) => stretches.some((one) => one.drawn === drawn));
  const hasCurrent = strips.some(({ hasFirstCurrent }) => hasFirstCurrent);
  const has = (kind: string) => told.some((region) => region.kind === kind);
  const marks = [
    "Number in a disc: the event in that row of the table, in the lane of who has it then; arrow: from whom.",
    late ? "Number in a ring: entered later than it was observed, see below it." : "",
    "Grey line: with that holder as far as the record says.",
    lines.some(({ event }) => event.observedUntil !== null) ? "Bar: it lasted." : "",
    lines.some(({ event }) => event.about.kind === "job") ? "* Recorded for all of the job." : "",
    has("gap") ? "Hatched: gap." : "",
    has("overlap") ? "Ruled upright: overlap." : "",
    hasCurrent ? `First current: test ${knots.firstCurrent?.shot ?? ""}, upright dashed line.` : "",
    hasCurrent && data.shots.length > 2 ? "Short ticks on the axis: further tests." : "",
  ];
  const scale = [
    isDrawn("shortened") || isDrawn("lengthened") ? "Axis: plain where to the scale of its strip" : "",
    isDrawn("shortened") ? "broken by two slants where shortened" : "",
    isDrawn("lengthened") ? "dotted where lengthened to make room" : "",
  ].filter((words) => words !== "");
  const seals = events.flatMap((i) =>
    (data.lines[i]?.event.seals ?? []).map(({ number, condition }) => `${i + 1}: ${number} ${condition}`),
  );
  const order = isDrawn("unknown")
    ? ["Days are withheld: the order of the events is shown, not the time between them."]
    : [];
  return [
    marks.filter((words) => words !== "").join(" "),
    ...(scale.length > 0 ? [`${scale.join("; ")}.`] : order),
    ...(seals.length > 0 ? [`Seals: ${seals.join("; ")}.`] : []),
    ...(told.length > 0 ? [`Pointed out: ${regionWords(told)}.`] : []),
    ...(strips.some(({ hasCutName }) => hasCutName) ? ["Names too long for their lane are cut."] : []),
    ...data.notes,
  ];
}

/** Every event and every remark of a sheet in words. */
function sheetWords(strips: readonly Strip[], { data, knots, regions }: Chain): string {
  const events = strips.flatMap((strip) => strip.events);
  const told = data.remarks.flatMap(({ kind, words }, i) => {
    const letter = remarkLetter(i);
    const isHere = strips.some((strip) => strip.regions.some((region) => region.letter === letter));
    return isHere ? [`${letter}, ${kind}: ${words}`] : [];
  });
  const first = strips.some(({ hasFirstCurrent }) => hasFirstCurrent) ? knots.firstCurrent : null;
  const current = first === null ? [] : [`First current: test ${first.shot}, ${momentWords(first.at)}.`];
  return [
    `Timeline of a chain of custody, ${subjectOf(data)}.`,
    ...events.map((i) =>
      eventWords(i, data.lines[i] as CustodyLine, isLateEvent(data.lines[i] as CustodyLine, regions, i)),
    ),
    ...current,
    ...told,
  ].join(" ");
}

function eventWords(i: number, { event, lateSeconds }: CustodyLine, late: boolean): string {
  const until = event.observedUntil === null ? "" : ` until ${momentWords(event.observedUntil)}`;
  const seals = event.seals.map(({ number, condition }) => `, seal ${number} ${condition}`).join("");
  const by = isDated(event.observedAt) ? ` ${formatSeconds(lateSeconds)}` : "";
  const entered = late ? `, entered${by} later` : "";
  return `${i + 1} ${event.event}, ${momentWords(event.observedAt)}${until}, from ${event.from} to ${event.to}${seals}${entered}.`;
}
