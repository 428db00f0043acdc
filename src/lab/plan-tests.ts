import { type PlanKind, type PlanKindsView, type PlanView, planKinds } from "../contract/plans.ts";
import { cPlan } from "../core/stats/c-plan.ts";
import { finiteLotSampleSize } from "../core/stats/finite-lot-sample-size.ts";
import { halfWidthSampleSize } from "../core/stats/half-width-sample-size.ts";
import { successRun, successRunReliability } from "../core/stats/success-run.ts";
import { twoPointPlan } from "../core/stats/two-point-plan.ts";
import { formatPercent } from "../core/units/format-percent.ts";
import { decimalNumber } from "../exchange/read-csv-table.ts";
import { InputError } from "./input-error.ts";

type Inputs = (name: string) => number;
type Plan = Pick<PlanView, "answer" | "sentence">;

const independent =
  "Presumes that the specimens are picked at random from those of which something is to be said, and fail independently of each other. Breakers of one panel may be alike: more are needed then, by the design effect.";

/** The kinds of plan with their inputs. */
export const planKindsView = (): PlanKindsView =>
  (Object.keys(planKinds) as PlanKind[]).map((kind) => ({ kind, ...planKinds[kind] }));

/** @throws InputError naming the kinds */
export function planKindOf(text: string): PlanKind {
  if (Object.hasOwn(planKinds, text)) return text as PlanKind;
  throw new InputError(`kind of plan: found "${text}"; accepted: ${Object.keys(planKinds).join(", ")}`);
}

/**
 * How many to test.
 *
 * @param given inputs by name, as a person wrote them
 * @throws InputError naming the input, what was found and what is accepted
 */
export function planTests(kind: PlanKind, given: Readonly<Record<string, string | undefined>>): PlanView {
  const accepted = planKinds[kind].inputs as Readonly<Record<string, string>>;
  for (const [name, value] of Object.entries(given))
    if (value !== undefined && !Object.hasOwn(accepted, name))
      throw new InputError(
        `${kind}: found the input "${name}"; accepted: ${Object.keys(accepted).join(", ")}`,
      );
  const inputs: Record<string, number> = {};
  for (const [name, words] of Object.entries(accepted)) {
    const value = decimalNumber(given[name] ?? "");
    if (!fits(name, value))
      throw new InputError(`${name}: found "${given[name] ?? "nothing"}"; accepted: ${words}`, [
        { field: name, problem: `found "${given[name] ?? "nothing"}"; accepted: ${words}` },
      ]);
    inputs[name] = value;
  }
  const read: Inputs = (name) => inputs[name] ?? Number.NaN;
  try {
    return { kind, inputs, ...plans[kind](read), presumes: independent };
  } catch (error) {
    if (error instanceof RangeError) throw new InputError(`${kind}: ${error.message}`);
    throw error;
  }
}

const most: Readonly<Record<string, readonly [number, number]>> = {
  allowed: [0, 1000],
  tested: [1, 1e9],
  size: [1, 100_000],
  bad: [1, 100_000],
};

function fits(name: string, value: number): boolean {
  const whole = most[name];
  if (whole !== undefined) return Number.isSafeInteger(value) && value >= whole[0] && value <= whole[1];
  const least = name === "half-width" ? 0.001 : name === "confidence" ? 0 : 1e-7;
  const highest = name === "reliability" ? 1 - 1e-7 : 1;
  return value > 0 && value >= least && value < 1 && value <= highest;
}

const plans: Readonly<Record<PlanKind, (read: Inputs) => Plan>> = {
  "zero-failures": (read) => {
    const { n } = successRun(read("confidence"), read("reliability"));
    return {
      answer: { n },
      sentence: `${n} specimens must all pass to show with ${formatPercent(read("confidence"), 6)} confidence that at least ${formatPercent(read("reliability"), 6)} would not fail.`,
    };
  },
  "some-failures": (read) => {
    const { n, acceptProbability } = cPlan(read("confidence"), read("reliability"), read("allowed"));
    return {
      answer: { n, acceptProbability },
      sentence: `Of ${n} specimens at most ${read("allowed")} may fail to show with ${formatPercent(read("confidence"), 6)} confidence that at least ${formatPercent(read("reliability"), 6)} would not fail.`,
    };
  },
  shown: (read) => {
    const { reliability, failureRateUpper } = successRunReliability(read("confidence"), read("tested"));
    return {
      answer: { reliability, failureRateUpper },
      sentence: `${read("tested")} passes without a failure show with ${formatPercent(read("confidence"), 6)} confidence that at most ${formatPercent(failureRateUpper)} would fail.`,
    };
  },
  width: (read) => {
    const size = halfWidthSampleSize(read("rate"), read("half-width"), read("confidence"));
    return {
      answer: { wilson: size.wilson, exact: size.clopperPearsonPersistent },
      sentence: `For a two-sided ${formatPercent(read("confidence"), 6)} interval of at most ± ${formatPercent(read("half-width"))} about a rate of ${formatPercent(read("rate"))}: ${size.wilson} specimens for Wilson's interval, ${size.clopperPearsonPersistent} for the exact one.`,
    };
  },
  acceptance: (read) => {
    const plan = twoPointPlan(read("good-rate"), read("refuse-good"), read("bad-rate"), read("accept-bad"));
    return {
      answer: { n: plan.n, allowed: plan.c, acceptGood: plan.acceptAtP1, acceptBad: plan.acceptAtP2 },
      sentence: `Test ${plan.n} and accept if at most ${plan.c} fail: a lot with ${formatPercent(read("good-rate"))} failing is accepted with a chance of ${formatPercent(plan.acceptAtP1)}, one with ${formatPercent(read("bad-rate"))} with ${formatPercent(plan.acceptAtP2)}.`,
    };
  },
  lot: (read) => {
    const { n, passProbability } = finiteLotSampleSize(read("size"), read("bad"), read("confidence"));
    return {
      answer: { n, passProbability },
      sentence: `Of a lot of ${read("size")}, ${n} picked at random must all pass to rule out ${read("bad")} or more bad ones with ${formatPercent(read("confidence"), 6)} confidence.`,
    };
  },
};
