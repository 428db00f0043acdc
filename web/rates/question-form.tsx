import type { Problem } from "../../src/contract/http.ts";
import { type RatesQuery, type StratumAttribute, stratumAttributes } from "../../src/contract/rates.ts";
import { ChoiceField, TextField } from "../forms/field.tsx";
import { problemOfField } from "../server/request.ts";
import { query } from "../server/resources.ts";

/** What is asked, as it stands in the form. */
export type Question = Required<Omit<RatesQuery, "by">> & { by: readonly StratumAttribute[] };

/** As-found first shots that did not trip within the limit, clustered by panel. */
export const usualQuestion: Question = {
  by: [],
  point: "2",
  state: "as-found",
  failure: "no-trip",
  loading: "",
  take: "worst",
  clusters: "panel",
  confidence: "0.95",
  only: "",
};

/** The question as the query of an address. */
export function questionText({ by, ...rest }: Question): string {
  return query({ by: by.join(","), ...rest });
}

/** Chooses what is counted; every change counts at once. */
export function QuestionForm({
  question,
  onChange,
  problem,
}: {
  question: Question;
  onChange: (question: Question) => void;
  problem: Problem | null;
}) {
  const set = (name: keyof Question) => (value: string) => onChange({ ...question, [name]: value });
  const toggle = (one: StratumAttribute) =>
    onChange({
      ...question,
      by: question.by.includes(one) ? question.by.filter((other) => other !== one) : [...question.by, one],
    });
  return (
    <form class="panel form" aria-labelledby="question-title" onSubmit={(event) => event.preventDefault()}>
      <h2 id="question-title">What is counted</h2>
      <div class="fields fields-many">
        <ChoiceField
          id="rate-failure"
          label="A failure is"
          value={question.failure}
          onChange={set("failure")}
          choices={[
            ["no-trip", "no trip within the limit"],
            ["nuisance-trip", "a trip in a hold test"],
            ["any-fail", "any verdict of fail"],
          ]}
        />
        <TextField
          id="rate-point"
          label="Multiples of the rating, empty for all"
          value={question.point}
          onChange={set("point")}
          example="2 or 1.35, 2"
          problem={problemOfField(problem, "point")}
        />
        <ChoiceField
          id="rate-state"
          label="State"
          value={question.state}
          onChange={set("state")}
          choices={[
            ["as-found", "as found, first test only"],
            ["exercised", "exercised"],
            ["any", "any"],
          ]}
        />
        <ChoiceField
          id="rate-loading"
          label="Poles that carried the current"
          value={question.loading}
          onChange={set("loading")}
          choices={[
            ["", "any"],
            ["pole-1", "pole 1 alone"],
            ["pole-2", "pole 2 alone"],
            ["pole-3", "pole 3 alone"],
            ["all", "all poles in series"],
          ]}
        />
        <ChoiceField
          id="rate-take"
          label="Of several tests of a specimen"
          value={question.take}
          onChange={set("take")}
          choices={[
            ["worst", "the worst"],
            ["first", "the earliest"],
          ]}
        />
        <ChoiceField
          id="rate-clusters"
          label="Clusters"
          value={question.clusters}
          onChange={set("clusters")}
          choices={[
            ["panel", "job and panel"],
            ["job", "job"],
            ["none", "none: each specimen by itself"],
          ]}
        />
        <TextField
          id="rate-confidence"
          label="Confidence, between 0 and 1"
          kind="number"
          value={question.confidence}
          onChange={set("confidence")}
          problem={problemOfField(problem, "confidence")}
        />
        <TextField
          id="rate-only"
          label="Only specimens with, several with ;"
          value={question.only}
          onChange={set("only")}
          example="poles=2;decade=1970s"
          problem={problemOfField(problem, "only")}
        />
      </div>
      <fieldset class="choices" aria-label="Divide by">
        <span class="choices-name">Divide by</span>
        {(Object.entries(stratumAttributes) as [StratumAttribute, string][]).map(([one, words]) => (
          <button
            key={one}
            type="button"
            aria-pressed={question.by.includes(one)}
            onClick={() => toggle(one)}
          >
            {words}
          </button>
        ))}
      </fieldset>
    </form>
  );
}
