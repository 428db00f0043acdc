import { useEffect, useRef } from "preact/hooks";
import type { PhotographView } from "../../src/contract/photograph-schema.ts";
import { StopButton } from "../bench/stop-button.tsx";
import { live } from "../live/live.ts";
import { useStore } from "../live/store.ts";
import { routeTo } from "../routing.ts";
import { addresses } from "../server/resources.ts";
import { momentWords } from "../words/quantities.ts";
import { photographWords } from "./photograph-card.tsx";

/**
 * A photograph as large as the screen allows, with its hash, when it was taken, its note and who added it. Escape closes it, and
 * the focus goes back to where it was. While a test runs Escape is the stop, and the stop stands in the dialog too, since the
 * one of the page lies behind it.
 */
export function PhotographDialog({ view, onClose }: { view: PhotographView; onClose: () => void }) {
  const dialog = useRef<HTMLDialogElement>(null);
  const testing = useStore(live.shot) !== null;
  useEffect(() => dialog.current?.showModal(), []);
  const { record, sequence, by, at } = view;
  const facts = [
    ["Shows", record.shows],
    ["Taken", record.takenAt === null ? "not told" : momentWords(record.takenAt)],
    ["Note", record.note === "" ? "none" : record.note],
    ["Added", `${momentWords(at)} by ${by}`],
    ["File", `${record.width} × ${record.height} pixels, ${Math.ceil(record.bytes / 1000)} kB`],
  ] as const;
  return (
    <dialog ref={dialog} class="photograph-large" aria-labelledby="photograph-title" onClose={onClose}>
      <div class="panel-head">
        <h2 id="photograph-title">{record.name}</h2>
        {testing && <StopButton />}
        <button type="button" onClick={() => dialog.current?.close()}>
          Close
        </button>
      </div>
      <img src={addresses.photograph(record.photograph)} alt={photographWords(record)} />
      <dl class="facts facts-wide">
        {facts.map(([what, words]) => (
          <div key={what}>
            <dt>{what}</dt>
            <dd>{words}</dd>
          </div>
        ))}
        <div>
          <dt>SHA-256 of the file</dt>
          <dd class="hash">{record.photograph}</dd>
        </div>
      </dl>
      <nav class="shot-back" aria-label="The photograph elsewhere">
        <a class="open" href={addresses.photograph(record.photograph)} target="_blank" rel="noreferrer">
          The file as it is
        </a>
        <a
          class="open"
          href={addresses.photographPublished(record.photograph)}
          target="_blank"
          rel="noreferrer"
        >
          Copy for publishing, without place and time
        </a>
        <a class="open" href={routeTo("ledger", String(sequence))}>
          Entry {sequence}
        </a>
      </nav>
    </dialog>
  );
}
