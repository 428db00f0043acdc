import type { TimeCurrentFigureData } from "../contract/exhibit-figures.ts";

/** What stands below a time-current figure: what its marks mean, the circumstances, and how far its limits can be relied on. */
export function timeCurrentNotes(data: TimeCurrentFigureData): string[] {
  const marks: string[] = [];
  const has = (outcome: string) => data.shots.some((shot) => shot.outcome === outcome);
  if (has("tripped")) marks.push("Filled circle: tripped at that time.");
  if (has("held"))
    marks.push(
      "Open circle with arrow: had not tripped when the current was ended; it would trip later or never.",
    );
  if (has("interrupted")) marks.push("Cross: interrupted, nothing is known of later times.");
  if (data.shots.some(({ time, current }) => time !== null || current !== null))
    marks.push(
      "Bars: expanded uncertainty of time (upright) and current (level); none where shorter than the mark.",
    );
  if (data.limits.length > 0)
    marks.push(
      "Bar with teeth: limit, teeth on the side where a trip is not allowed. Dotted steps only guide the eye.",
    );
  if (data.bands.length > 0) marks.push("Hatched: published band.");
  if (data.model !== null)
    marks.push(
      data.model.lower.length > 0 ? "Line: fitted model, dashed its bounds." : "Line: fitted model.",
    );
  const unread = data.limits.some(({ readInDocument }) => !readInDocument)
    ? ["* Value not read in the document itself (broken bar)."]
    : [];
  return [
    ...(marks.length > 0 ? [marks.join(" ")] : []),
    `Ambient: ${data.ambient}. Starting state: ${data.startingState}.`,
    ...data.limitSets.map(({ title, confirmed }) =>
      confirmed
        ? `Limits: ${title}; confirmed by the lab against its own copy of the document.`
        : `Limits: ${title}; UNCONFIRMED: not yet checked by the lab against its own copy of the document.`,
    ),
    ...unread,
    ...data.notes,
  ];
}
