import type { CustodyLine, CustodyRemark } from "../contract/custody-schema.ts";
import { formatSeconds } from "../core/units/format-seconds.ts";

/** An event entered later than this after it was observed is pointed out: a working value of ours, one day. */
const lateSeconds = 86_400;

const same = (a: string, b: string): boolean => a.trim().toLowerCase() === b.trim().toLowerCase();
const nameOf = (line: CustodyLine): string => `${line.event.event} (entry ${line.sequence})`;
const endOf = ({ event }: CustodyLine): string => event.observedUntil ?? event.observedAt;

/** Words for what remarks name. */
export interface RemarkWording {
  holder(name: string): string;
  seal(number: string): string;
  moment(at: string): string;
}

const asTheyAre: RemarkWording = { holder: (name) => name, seal: (number) => number, moment: (at) => at };

/**
 * What a reader of a chain of custody must be told, in whole sentences and in the order of the events. A gap: what one event
 * handed over is next handed over by somebody else. An overlap: two events claim it for different holders at one time, or it
 * is handed over again by who had given it away.
 *
 * @param lines in the order of what was observed
 * @param shots of the specimen, for tests while the lab did not have it
 * @param say how holders, seals and moments are worded; what is found does not depend on it
 */
export function custodyRemarks(
  lines: readonly CustodyLine[],
  shots: readonly { shot: string; openedAt: string }[],
  say: RemarkWording = asTheyAre,
): CustodyRemark[] {
  const [first] = lines;
  if (first === undefined)
    return [{ kind: "gap", words: "Nothing is recorded of its custody.", entries: [] }];
  const remarks: CustodyRemark[] = [];
  if (first.event.event !== "receipt")
    remarks.push({
      kind: "gap",
      words: `The chain begins with ${nameOf(first)}; how it was received is not recorded.`,
      entries: [first.sequence],
    });
  for (const [at, line] of lines.entries()) {
    const before = lines[at - 1];
    if (before !== undefined) remarks.push(...between(before, line, lines.slice(0, at), say));
    if (line.lateSeconds > lateSeconds)
      remarks.push({
        kind: "late entry",
        words: `${capital(nameOf(line))} was observed at ${say.moment(line.event.observedAt)} and entered ${formatSeconds(line.lateSeconds)} later.`,
        entries: [line.sequence],
      });
  }
  return [...remarks, ...sealRemarks(lines, say), ...shotRemarks(lines, shots, say)];
}

function between(
  before: CustodyLine,
  line: CustodyLine,
  earlier: readonly CustodyLine[],
  say: RemarkWording,
): CustodyRemark[] {
  const entries = [before.sequence, line.sequence];
  const [from, to, had] = [line.event.from, line.event.to, before.event.to].map(say.holder);
  const [begins, ends] = [line.event.observedAt, endOf(before)].map(say.moment);
  const found: CustodyRemark[] = [];
  if (before.event.event === "disposal" || before.event.event === "return")
    found.push({
      kind: "order",
      words: `${capital(nameOf(line))} at ${begins} follows ${nameOf(before)}, after which it was no longer here.`,
      entries,
    });
  const overlaps = Date.parse(line.event.observedAt) < Date.parse(endOf(before));
  if (overlaps && !same(line.event.to, before.event.to)) {
    found.push({
      kind: "overlap",
      words: `${capital(nameOf(before))} has it with ${had} until ${ends}, ${nameOf(line)} has it with ${to} from ${begins}: two holders at one time.`,
      entries,
    });
  } else if (!same(line.event.from, before.event.to)) {
    const gaveAway = earlier.findLast(({ event }) => same(event.from, line.event.from));
    if (gaveAway !== undefined)
      found.push({
        kind: "overlap",
        words: `${from} hands it over in ${nameOf(line)} at ${begins}, although ${from} had given it away in ${nameOf(gaveAway)} at ${say.moment(gaveAway.event.observedAt)}; it was with ${had}.`,
        entries: [...new Set([gaveAway.sequence, ...entries])].sort((a, b) => a - b),
      });
    else
      found.push({
        kind: "gap",
        words: `From ${ends} to ${begins} nothing says how it came from ${had} (${nameOf(before)}) to ${from} (${nameOf(line)}).`,
        entries,
      });
  }
  return found;
}

/** Seals that changed although nobody says that they were broken, removed or applied. */
function sealRemarks(lines: readonly CustodyLine[], say: RemarkWording): CustodyRemark[] {
  const found: CustodyRemark[] = [];
  const on = new Map<string, CustodyLine>();
  let seen = false;
  for (const line of lines) {
    for (const { number, condition } of line.event.seals) {
      const last = on.get(number);
      if (condition === "intact" && last === undefined && seen)
        found.push({
          kind: "seal",
          words: `Seal ${say.seal(number)} is intact in ${nameOf(line)}, but no earlier event applied or saw it.`,
          entries: [line.sequence],
        });
      if (condition === "broken" && line.event.event !== "opening")
        found.push({
          kind: "seal",
          words: `Seal ${say.seal(number)} is broken in ${nameOf(line)}, which is no opening.`,
          entries: [...(last === undefined ? [] : [last.sequence]), line.sequence],
        });
      if (condition === "intact" || condition === "applied") on.set(number, line);
      else on.delete(number);
    }
    if (line.event.event === "opening") {
      for (const [number, last] of on)
        if (last !== line && !line.event.seals.some((seal) => seal.number === number)) {
          found.push({
            kind: "seal",
            words: `${capital(nameOf(line))} does not say what became of seal ${say.seal(number)}, last seen in ${nameOf(last)}.`,
            entries: [last.sequence, line.sequence],
          });
          on.delete(number);
        }
    }
    seen ||= line.event.seals.length > 0;
  }
  return found;
}

function shotRemarks(
  lines: readonly CustodyLine[],
  shots: readonly { shot: string; openedAt: string }[],
  say: RemarkWording,
): CustodyRemark[] {
  const first = lines[0];
  return [...shots].reverse().flatMap(({ shot, openedAt }): CustodyRemark[] => {
    const at = Date.parse(openedAt);
    const last = lines.findLast(({ event }) => Date.parse(event.observedAt) <= at);
    if (last === undefined && first !== undefined)
      return [
        {
          kind: "order",
          words: `Shot ${shot} at ${say.moment(openedAt)} lies before the first event of its custody, ${nameOf(first)} at ${say.moment(first.event.observedAt)}.`,
          entries: [first.sequence],
        },
      ];
    if (last !== undefined && (last.event.event === "return" || last.event.event === "disposal"))
      return [
        {
          kind: "order",
          words: `Shot ${shot} at ${say.moment(openedAt)} lies after ${nameOf(last)} at ${say.moment(last.event.observedAt)}.`,
          entries: [last.sequence],
        },
      ];
    return [];
  });
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
