import type { RateCase, RateQuestion } from "../contract/rates.ts";
import { loadingWords } from "../core/specimen/loading-words.ts";
import { formatMultiple } from "../core/units/format-multiple.ts";
import { formatSeconds } from "../core/units/format-seconds.ts";
import type { TimedCase } from "../store/failure-counts.ts";
import type { Lab } from "./lab.ts";
import { failingFindings } from "./rates-question.ts";
import { type Selection, selectCases } from "./rates-selection.ts";

/**
 * Who is in a rate and who is out, and why: specimens in order of receipt, one line for each stratum in which a specimen stands.
 *
 * @param limit at most so many specimens
 */
export function rateCases(lab: Pick<Lab, "store">, question: RateQuestion, limit: number): RateCase[] {
  const selection = selectCases(lab, question);
  return lab.store.failureCounts.listed({ after: 0, limit }).flatMap((one): RateCase[] => {
    const { specimen, label, demo, shots } = one;
    const out = (why: string, shot: string | null = null): RateCase[] => [
      { specimen, label, shot, stratum: "", counted: "not counted", why },
    ];
    if (demo && !selection.inventedCounted) return out("invented");
    const [first] = shots;
    if (first === undefined) return out("no closed shot");
    const inState = shots.filter(
      ({ asFound }) => question.state === "any" || asFound === (question.state === "as-found"),
    );
    if (inState.length === 0)
      return question.state === "as-found"
        ? out("its handle was moved before its first shot", first.shot)
        : out("no shot after the first operation", first.shot);
    const atPoints = inState.filter(({ point }) => selection.groups.has(point));
    const [elsewhere] = inState;
    if (atPoints.length === 0) return out(elsewhereWords(lab, question, elsewhere ?? first), elsewhere?.shot);
    const lines = groupsOf(selection, atPoints).flatMap(([stratum, ofGroup]) => {
      const chosen = choose(question, ofGroup);
      return chosen === undefined ? [] : [lineOf(question, selection, stratum, chosen)];
    });
    return lines.length > 0 ? lines : out("not among the specimens asked for");
  });
}

function elsewhereWords(lab: Pick<Lab, "store">, { state }: RateQuestion, shot: TimedCase): string {
  const point = lab.store.failureCounts.points().find((one) => one.point === shot.point);
  if (point === undefined) return "shot at another test point";
  const at = `${formatMultiple(point.multiple)}, ${loadingWords(point.loading)}${point.trips ? "" : ", a hold test"}`;
  return state === "as-found" ? `its first shot was another: ${at}` : `shot only at other test points: ${at}`;
}

function groupsOf(selection: Selection, shots: readonly TimedCase[]): [number, TimedCase[]][] {
  const groups = new Map<number, TimedCase[]>();
  for (const shot of shots) {
    const stratum = selection.stratumOf(shot.kind, shot.cluster, selection.groups.get(shot.point) ?? -1);
    if (stratum === null) continue;
    const group = groups.get(stratum);
    if (group === undefined) groups.set(stratum, [shot]);
    else group.push(shot);
  }
  return [...groups];
}

function countedAs(
  { failure }: RateQuestion,
  { result, finding }: TimedCase,
): Exclude<RateCase["counted"], "not counted"> {
  if (result === "excluded" || result === "undetermined") return result;
  return failingFindings[failure].includes(finding) ? "failed" : "passed";
}

const fromWorst = ["failed", "passed", "undetermined", "excluded"] as const;

function choose(question: RateQuestion, shots: readonly TimedCase[]): TimedCase | undefined {
  if (question.take === "first") return shots[0];
  const rank = (shot: TimedCase) => fromWorst.indexOf(countedAs(question, shot));
  return shots.toSorted((a, b) => rank(a) - rank(b))[0];
}

function lineOf(question: RateQuestion, selection: Selection, stratum: number, shot: TimedCase): RateCase {
  const { specimen, label, seconds, heldSeconds, finding } = shot;
  const time =
    seconds === null ? `no trip in ${formatSeconds(heldSeconds)}` : `tripped after ${formatSeconds(seconds)}`;
  return {
    specimen,
    label,
    shot: shot.shot,
    stratum: selection.strata[stratum]?.label || "all",
    counted: countedAs(question, shot),
    why: `${finding}: ${time}`,
  };
}
