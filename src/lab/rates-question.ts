import {
  clusterings,
  countedStates,
  failureKinds,
  type RateQuestion,
  type RatesQuery,
  type StratumAttribute,
  stratumAttributes,
  takenShots,
} from "../contract/rates.ts";
import type { Finding } from "../core/limits/verdict.ts";
import { loadingWords } from "../core/specimen/loading-words.ts";
import { formatMultiple } from "../core/units/format-multiple.ts";
import { decimalNumber } from "../exchange/read-csv-table.ts";
import { InputError } from "./input-error.ts";

/** Findings that are failures, by what a failure is. */
export const failingFindings: Readonly<Record<RateQuestion["failure"], readonly Finding[]>> = {
  "no-trip": ["late trip", "no trip"],
  "nuisance-trip": ["nuisance trip"],
  "any-fail": ["late trip", "no trip", "too fast", "nuisance trip", "inside the guard band"],
};

const loadings = ["pole-1", "pole-2", "pole-3", "all"] as const;

/** Items of a list that a person separated by commas. */
export const listed = (text: string | undefined): string[] =>
  (text ?? "")
    .split(",")
    .map((item) => item.trim())
    .filter((item) => item !== "");

function refuse(field: string, found: string, accepted: string): never {
  throw new InputError(`${field}: found "${found}"; accepted: ${accepted}`, [
    { field, problem: `found "${found}"; accepted: ${accepted}` },
  ]);
}

/** One of a few words, or the first of them where none was given. @throws InputError naming them */
export function readChoice<T extends string>(
  field: string,
  text: string | undefined,
  choices: readonly [T, ...T[]],
): T {
  if (text === undefined || text === "") return choices[0];
  return choices.find((choice) => choice === text) ?? refuse(field, text, choices.join(", "));
}

/** A confidence level, 0.95 where none was given. @throws InputError unless above 0 and below 1 */
export function readConfidence(text: string | undefined, field = "confidence"): number {
  if (text === undefined || text === "") return 0.95;
  const value = decimalNumber(text);
  return value > 0 && value < 1 ? value : refuse(field, text, "a number above 0 and below 1, such as 0.95");
}

function attributeOf(name: string, field: string): StratumAttribute {
  if (Object.hasOwn(stratumAttributes, name)) return name as StratumAttribute;
  return refuse(field, name, Object.keys(stratumAttributes).join(", "));
}

/** What is asked, from the words of a command or a request. @throws InputError naming the field and what is accepted */
export function readRateQuestion(query: RatesQuery): RateQuestion {
  const by = [...new Set(listed(query.by).map((name) => attributeOf(name, "by")))];
  const points = [
    ...new Set(
      listed(query.point).map((text) => {
        const multiple = decimalNumber(text);
        return multiple > 0 && multiple < 1000
          ? multiple
          : refuse("point", text, "a multiple of rated current above 0, such as 2 for 200 %");
      }),
    ),
  ];
  const only = (query.only ?? "")
    .split(";")
    .filter((item) => item.trim() !== "")
    .map((item) => {
      const at = item.indexOf("=");
      if (at < 1) refuse("only", item, "attribute=value, several separated by ;");
      return { attribute: attributeOf(item.slice(0, at).trim(), "only"), value: item.slice(at + 1).trim() };
    });
  return {
    by,
    points,
    only,
    state: readChoice("state", query.state, countedStates),
    failure: readChoice("failure", query.failure, failureKinds),
    loading:
      query.loading === undefined || query.loading === ""
        ? null
        : readChoice("loading", query.loading, loadings),
    take: readChoice("take", query.take, takenShots),
    clusters: readChoice("clusters", query.clusters, clusterings),
    confidence: readConfidence(query.confidence),
  };
}

const failureWords: Readonly<Record<RateQuestion["failure"], string>> = {
  "no-trip": "no trip within the limit at that multiple",
  "nuisance-trip": "a trip during a test in which the breaker must hold",
  "any-fail": "any verdict of fail, too fast or too slow, under the rule that was locked before the shot",
};

/** The criterion of a rate, in words. `multiples` are those that were counted; none where nothing was shot so. */
export function criterionWords(question: RateQuestion, multiples: readonly number[]): string {
  const { state, failure, loading, take, only } = question;
  const at =
    multiples.length === 0
      ? "at no test point on record"
      : `at ${multiples.map((multiple) => formatMultiple(multiple)).join(" or ")} of rated current`;
  const which =
    state === "as-found"
      ? "as found, first shot of the specimen only"
      : `${state === "exercised" ? "exercised specimens" : "as found or exercised"}; ${
          take === "worst"
            ? "of several shots of a specimen the worst decided one (failed before passed; undetermined or excluded only where none was decided)"
            : "of several shots of a specimen the earliest"
        }`;
  const poles = loading === null ? "any loading" : loadingWords(loading);
  const filter = only.map(({ attribute, value }) => `${attribute} = ${value}`).join(", ");
  return `Failure: ${failureWords[failure]}, ${at}; ${poles}; ${which}. A specimen counts once, whatever its number of shots and poles.${
    filter === "" ? "" : ` Only specimens with ${filter}.`
  }`;
}
