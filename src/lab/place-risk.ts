import type { BeliefView, PanelQuery, PanelView, PlaceQuery, PlaceView } from "../contract/plans.ts";
import { badInLot, mostBadInLot } from "../core/stats/finite-lot.ts";
import { panelExpectation } from "../core/stats/panel-expectation.ts";
import { type Belief, panelRisk } from "../core/stats/panel-risk.ts";
import { posteriorRate } from "../core/stats/posterior-rate.ts";
import { formatPercent } from "../core/units/format-percent.ts";
import { decimalNumber } from "../exchange/read-csv-table.ts";
import { rateCaution } from "./cautions.ts";
import { InputError } from "./input-error.ts";
import type { Lab } from "./lab.ts";
import { ratesView } from "./rates.ts";
import { readConfidence, readRateQuestion } from "./rates-question.ts";

const notAFire =
  "This is not the chance of a fire: it says what a breaker would do if its circuit were overloaded, not how often circuits are overloaded, nor what follows.";

function whole(field: string, text: string | undefined, least: number, most: number): number {
  const value = decimalNumber(text ?? "");
  if (Number.isSafeInteger(value) && value >= least && value <= most) return value;
  const problem = `found "${text ?? "nothing"}"; accepted: a whole number from ${least} to ${most}`;
  throw new InputError(`${field}: ${problem}`, [{ field, problem }]);
}

/**
 * Of N breakers in a place some were tested and some of those failed: exact bounds on the failures among those still in
 * service (hypergeometric).
 *
 * @throws InputError naming the input
 */
export function placeView(query: PlaceQuery): PlaceView {
  const N = whole("N", query.N, 1, 1_000_000);
  const tested = whole("tested", query.tested, 1, N);
  const failed = whole("failed", query.failed, 0, tested);
  const confidence = readConfidence(query.confidence);
  const inLot = badInLot(N, tested, failed, confidence);
  const oneSided = mostBadInLot(N, tested, failed, Number((1 - confidence).toPrecision(15)));
  const remaining = {
    lower: inLot.lower - failed,
    upper: inLot.upper - failed,
    oneSidedUpper: oneSided - failed,
  };
  const inService = N - tested;
  return {
    N,
    tested,
    failed,
    inService,
    confidence,
    remaining,
    sentence:
      inService === 0
        ? `All ${N} breakers were tested, ${failed} failed: none is still in service untested.`
        : `Of ${N} breakers ${tested} were tested and ${failed} failed: among the ${inService} still in service ${remaining.lower} to ${remaining.upper} would fail (exact, two-sided ${formatPercent(confidence, 6)}); at most ${remaining.oneSidedUpper} (one-sided).`,
    words: [
      "Conditional on the tested ones having been picked at random among all in the place, and on the criterion of the test.",
      notAFire,
      rateCaution,
    ],
  };
}

const belief = ({ mean, median, interval, upperOneSided95 }: Belief): BeliefView => ({
  mean,
  median,
  interval: { lower: interval.lower, upper: interval.upper },
  oneSidedUpper95: upperOneSided95,
});

/**
 * What rates mean for a panel of one-pole and two-pole breakers, with the uncertainty of both rates (Jeffreys prior).
 *
 * @param lab whose own rates are taken where the query says so
 * @throws InputError naming the input
 */
export function panelView(query: PanelQuery, lab: Pick<Lab, "store"> | null): PanelView {
  const counts = {
    one: whole("onePole", query.onePole, 0, 1000),
    two: whole("twoPole", query.twoPole, 0, 1000),
  };
  if (counts.one + counts.two === 0)
    throw new InputError("the panel is empty: accepted is one breaker or more");
  const confidence = readConfidence(query.confidence);
  const fromLab = query.fromLab === "true" && lab !== null ? ownCounts(lab, query.point) : null;
  const kind = (name: "onePole" | "twoPole", count: number) => {
    const own = fromLab?.[name];
    const tested = own?.n ?? whole(`${name}Tested`, query[`${name}Tested`] ?? "0", 0, 1e9);
    const failed = own?.k ?? whole(`${name}Failed`, query[`${name}Failed`] ?? "0", 0, tested);
    if (count > 0 && tested === 0)
      throw new InputError(
        `${name}Tested: found 0, but the panel has ${count} of them; without any tested nothing can be said`,
      );
    return { count, tested, failed };
  };
  const onePole = kind("onePole", counts.one);
  const twoPole = kind("twoPole", counts.two);
  const panel = {
    single: { count: onePole.count, rate: posteriorRate(onePole.failed, onePole.tested, 0.5) },
    double: { count: twoPole.count, rate: posteriorRate(twoPole.failed, twoPole.tested, 0.5) },
  };
  const expectation = panelExpectation(panel, confidence);
  const atLeastOne = belief(panelRisk(panel, confidence));
  const randomCircuit = belief(expectation.randomCircuit ?? expectation.expectedFailures);
  const expectedFailures = belief(expectation.expectedFailures);
  const level = formatPercent(confidence, 6);
  const range = ({ interval }: BeliefView) =>
    `${formatPercent(interval.lower)} to ${formatPercent(interval.upper)}`;
  return {
    onePole,
    twoPole,
    confidence,
    atLeastOne,
    expectedFailures,
    randomCircuit,
    sentence: `In a panel of ${onePole.count} one-pole and ${twoPole.count} two-pole breakers: at least one would fail with probability ${formatPercent(atLeastOne.mean)} (${level}: ${range(atLeastOne)}); expected number ${expectedFailures.mean.toPrecision(3)} (${expectedFailures.interval.lower.toPrecision(3)} to ${expectedFailures.interval.upper.toPrecision(3)}); an overload on a circuit picked at random meets a breaker that would not trip with probability ${formatPercent(randomCircuit.mean)} (${range(randomCircuit)}).`,
    words: [
      "Means are over the uncertainty of the rates (Jeffreys prior); intervals are equal-tailed and carry that uncertainty alone.",
      "Conditional on the tested breakers standing for those in the panel, on the criterion of their test, and on breakers failing independently of each other once the rates are given.",
      ...(fromLab === null ? [] : [`Rates: ${fromLab.criterion}`]),
      notAFire,
      rateCaution,
    ],
  };
}

function ownCounts(lab: Pick<Lab, "store">, point: string | undefined) {
  const { rows, criterion } = ratesView(
    lab,
    readRateQuestion({ by: "poles", ...(point === undefined ? {} : { point }) }),
  );
  const of = (label: string) => {
    const row = rows.find((one) => one.stratum.poles === label);
    return { k: row?.k ?? 0, n: row?.n ?? 0 };
  };
  return { onePole: of("1 pole"), twoPole: of("2 poles"), criterion };
}
