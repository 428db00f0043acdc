import { Fragment } from "preact";
import { useState } from "preact/hooks";
import type { CustodyChain, CustodyLine, CustodyRemark } from "../../src/contract/custody-schema.ts";
import { signatureWords } from "../../src/contract/signature-words.ts";
import { formatSeconds } from "../../src/core/units/format-seconds.ts";
import { WarningGlyph } from "../frame/banners.tsx";
import { routeTo } from "../routing.ts";
import { momentWords } from "../words/quantities.ts";
import { CustodyForm } from "./custody-form.tsx";

/** Below this an entry was made when it happened. */
const promptSeconds = 300;

/** The chain as a timeline, with what a reader must be told standing where it belongs; and the form for the next event. */
export function ChainPanel({ chain, onRecorded }: { chain: CustodyChain; onRecorded: () => void }) {
  const [adding, setAdding] = useState(false);
  const { lines, remarks, holder } = chain;
  return (
    <section class="panel" aria-labelledby="chain-title">
      <div class="panel-head">
        <h2 id="chain-title">Chain of custody</h2>
        <button type="button" onClick={() => setAdding(!adding)}>
          {adding ? "Close the form" : "Record an event"}
        </button>
      </div>
      {adding && <CustodyForm chain={chain} onRecorded={onRecorded} />}
      <p role="status" class="chain-standing">
        {holder === null ? (
          "Nobody is named who has it. "
        ) : (
          <>
            Now with <strong>{holder}</strong>.{" "}
          </>
        )}
        {remarks.length === 0
          ? "No gap and no overlap."
          : `${remarks.length} ${remarks.length === 1 ? "thing is" : "things are"} pointed out below.`}
      </p>
      {general(chain).map((remark) => (
        <Remark key={remark.words} remark={remark} />
      ))}
      <ol class="timeline">
        {lines.map((line) => {
          const told = remarks.filter((one) => placeOf(one, lines) === line.sequence);
          const breaks = told.find((one) => one.kind === "gap" || one.kind === "overlap");
          const remarksAbove = told.map((remark) => <Remark key={remark.words} remark={remark} />);
          return (
            <Fragment key={line.sequence}>
              {breaks !== undefined && <li class={`timeline-${breaks.kind}`}>{remarksAbove}</li>}
              <li>
                {breaks === undefined && remarksAbove}
                <Event
                  line={line}
                  ofJob={chain.about.kind === "specimen" && line.event.about.kind === "job"}
                />
              </li>
            </Fragment>
          );
        })}
      </ol>
    </section>
  );
}

/** A remark stands above the last in time of the events that it follows from. */
function placeOf(remark: CustodyRemark, lines: readonly CustodyLine[]): number | null {
  return lines.findLast((line) => remark.entries.includes(line.sequence))?.sequence ?? null;
}

/** Remarks that follow from no event. */
const general = ({ remarks, lines }: CustodyChain) => remarks.filter((one) => placeOf(one, lines) === null);

const remarkNames: Readonly<Record<CustodyRemark["kind"], string>> = {
  gap: "Gap",
  overlap: "Overlap",
  seal: "Seal",
  "late entry": "Entered late",
  order: "Order",
};

function Remark({ remark }: { remark: CustodyRemark }) {
  return (
    <p class="problem">
      <WarningGlyph />
      <span>
        <strong>{remarkNames[remark.kind]}.</strong> {withLocalTimes(remark.words)}
      </span>
    </p>
  );
}

/** Times in the words of the server are UTC; here all stand on the reader's own clock. */
export function withLocalTimes(words: string): string {
  return words.replace(/\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}\.\d{3}Z/g, momentWords);
}

/** How late, in days where there are some. */
function lateWords(seconds: number): string {
  const days = Math.floor(seconds / 86_400);
  return days < 2 ? formatSeconds(seconds) : `${days} days`;
}

function Event({ line, ofJob }: { line: CustodyLine; ofJob: boolean }) {
  const { event } = line;
  return (
    <div class="timeline-event">
      <p class="timeline-when">
        {momentWords(event.observedAt)}
        {event.observedUntil !== null && <span>to {momentWords(event.observedUntil)}</span>}
      </p>
      <div>
        <p>
          <strong class="capital">{event.event}</strong>: {event.from} → {event.to}
          {ofJob ? " (with the whole job)" : ""}
        </p>
        {event.seals.length > 0 && (
          <p>Seals: {event.seals.map(({ number, condition }) => `${number} ${condition}`).join(", ")}</p>
        )}
        {event.condition !== "" && <p>Condition: {event.condition}</p>}
        {event.note !== "" && <p>{event.note}</p>}
        <p class="hint">
          Entered {momentWords(line.enteredAt)} by {line.by} ({signatureWords(line)})
          {line.lateSeconds > promptSeconds ? `, ${lateWords(line.lateSeconds)} after it was observed` : ""}
          {", "}
          <a href={routeTo("ledger", String(line.sequence))}>entry {line.sequence}</a>
          {line.amendments > 0 && (
            <strong>
              , amended {line.amendments} {line.amendments === 1 ? "time" : "times"}
            </strong>
          )}
        </p>
      </div>
    </div>
  );
}
