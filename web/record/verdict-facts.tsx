import type { EntryBodies } from "../../src/contract/ledger-entries.ts";
import { flagMeanings } from "../../src/core/signal/flags.ts";
import { WarningGlyph } from "../frame/banners.tsx";
import { ResultBadge } from "../words/result-badge.tsx";
import { ruleWords } from "../words/rule-words.ts";
import { endWords } from "../words/state-words.ts";
import { findingWords, outcomeWords, resultWords } from "../words/verdict-words.ts";

/** A probability in percent; never a hundred or none, which no measurement can claim. */
function probabilityWords(probability: number): string {
  if (probability > 0.999) return "above 99.9 %";
  return probability < 0.001 ? "below 0.1 %" : `${(probability * 100).toFixed(1)} %`;
}

/** The verdict with its reasons, what it means where it is neither pass nor fail, and the flags in words. */
export function VerdictFacts({ label, closed }: { label: string; closed: EntryBodies["shot-closed"] }) {
  const { reading, verdict } = closed;
  const unclear = verdict.result === "undetermined" || verdict.result === "excluded";
  return (
    <section class="panel verdict" aria-labelledby="verdict-title">
      <h2 id="verdict-title" class="for-ears">
        Verdict
      </h2>
      <div class="verdict-head">
        <ResultBadge result={verdict.result} large />
        <p>
          {label} {outcomeWords(reading)}. {unclear ? "" : findingWords[verdict.finding]}
        </p>
      </div>
      <p>{resultWords[verdict.result].meaning}</p>
      {reading.outcome !== "tripped" && <p>{endWords[closed.hostEnd]}</p>}
      {reading.outcome === "interrupted" && (
        <p>
          Interrupted means that the current was switched off before the test was over. How long the breaker
          would have carried it is not known; it is only known to be longer than the time shown.
        </p>
      )}
      <h3>Reasons</h3>
      <ul class="reasons">
        {verdict.reasons.map((reason) => (
          <li key={reason}>{reason}</li>
        ))}
      </ul>
      {reading.flags.length > 0 && (
        <>
          <h3>What makes this reading questionable</h3>
          <ul class="reasons flags">
            {reading.flags.map((flag) => (
              <li key={flag}>
                <WarningGlyph />
                {flagMeanings[flag].words}
              </li>
            ))}
          </ul>
        </>
      )}
      <p class="hint">
        Judged by {ruleWords(verdict.rule)}, fixed before the test
        {verdict.statement === null ? "" : `. Statement: ${verdict.statement}`}
        {verdict.probability === null
          ? ""
          : `. Probability of conformity ${probabilityWords(verdict.probability)}`}
        . Limit set {verdict.limitSet},{" "}
        {verdict.confirmed
          ? "confirmed by this lab against its own copy"
          : "not confirmed by this lab against its own copy of the document"}
        . A pass says what one specimen did in one test; it is no statement that an installation is safe.
      </p>
    </section>
  );
}
