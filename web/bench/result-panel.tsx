import { flagMeanings } from "../../src/core/signal/flags.ts";
import { formatAmps } from "../../src/core/units/format-amps.ts";
import { formatMultiple } from "../../src/core/units/format-multiple.ts";
import type { ClosedShot } from "../live/live.ts";
import { routeTo } from "../routing.ts";
import { DemoMark, ResultBadge } from "../words/result-badge.tsx";
import { loadingWords } from "../words/state-words.ts";
import { findingWords, outcomeWords, resultWords } from "../words/verdict-words.ts";

/** The end of a test: verdict, what was found, and why. */
export function ResultPanel({ ended }: { ended: ClosedShot }) {
  const { shot, reading, verdict } = ended;
  const { details } = shot.specimen;
  const unclear = verdict.result === "undetermined" || verdict.result === "excluded";
  return (
    <div class="ended">
      <h2>
        {details.label} {details.demo && <DemoMark />}
      </h2>
      <p class="run-point">
        {formatMultiple(shot.point.row.multiple)} on {loadingWords(shot.point.loading, details.poles)}
      </p>
      <div>
        <ResultBadge result={verdict.result} large />
        <p class="ended-outcome">
          {details.label} {outcomeWords(reading)}.{" "}
          {unclear ? resultWords[verdict.result].meaning : findingWords[verdict.finding]}
        </p>
      </div>
      <ul class="reasons">
        {verdict.reasons.map((reason) => (
          <li key={reason}>{reason}</li>
        ))}
        {reading.flags.map((flag) => (
          <li key={flag}>{flagMeanings[flag].words}</li>
        ))}
        <li>
          Effective current {formatAmps(reading.effectiveAmps)}, {formatMultiple(reading.multiple)} of the
          rating.
        </li>
      </ul>
      {reading.outcome !== "tripped" && (
        <p class="problem">
          A breaker that did not trip stays hot and closed. Let it cool before you touch it.
        </p>
      )}
    </div>
  );
}

/** What to do after a test. */
export function ResultActions({ ended, onBack }: { ended: ClosedShot; onBack: () => void }) {
  return (
    <div class="ended-actions">
      <button type="button" class="primary" onClick={onBack}>
        Back to the programme
      </button>
      <a class="button" href={routeTo("record", ended.shot.id)}>
        Open the record
      </a>
    </div>
  );
}
