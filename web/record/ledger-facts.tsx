import type { ShotView } from "../../src/contract/http.ts";
import type { LedgerEntry } from "../../src/contract/ledger-entries.ts";
import { formatAmps } from "../../src/core/units/format-amps.ts";
import { momentWords } from "../words/quantities.ts";

/** Where this test stands in the ledger, by which anyone can check that nothing was altered; and the rig that made it. */
export function LedgerFacts({ view }: { view: ShotView }) {
  const { opened, closed } = view;
  const { rig, link } = opened.body;
  return (
    <section class="panel" aria-labelledby="ledger-title">
      <h2 id="ledger-title">Ledger and rig</h2>
      <dl class="facts facts-wide">
        <Entry name="Entry before the current" entry={opened} />
        {closed !== null && <Entry name="Entry after the test" entry={closed} />}
        {closed !== null && (
          <div>
            <dt>Samples, SHA-256</dt>
            <dd class="hash">{closed.body.samplesHash}</dd>
          </div>
        )}
        <div>
          <dt>Limit set as it was, SHA-256</dt>
          <dd class="hash">{opened.body.limitSetHash}</dd>
        </div>
        <div>
          <dt>Rig</dt>
          <dd>
            {rig.model}, serial {rig.serial}, firmware {rig.firmware}
            {rig.emulated ? ", emulated" : ""}; {formatAmps(rig.lowestAmps)} to {formatAmps(rig.highestAmps)}
          </dd>
        </div>
        <div>
          <dt>Its line</dt>
          <dd>{link}</dd>
        </div>
        {closed?.body.lineHealth && (
          <div>
            <dt>Line during the test</dt>
            <dd>
              {closed.body.lineHealth.damaged} lines damaged, {closed.body.lineHealth.askedAgain} asked for
              again, {closed.body.lineHealth.missing} missing
            </dd>
          </div>
        )}
      </dl>
    </section>
  );
}

function Entry({ name, entry }: { name: string; entry: LedgerEntry }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>
        number {entry.sequence}, {momentWords(entry.at)}, by {entry.actor}
        <span class="hash">{entry.hash}</span>
      </dd>
    </div>
  );
}
