import { useEffect, useMemo, useState } from "preact/hooks";
import type { LabView, SpecimenView } from "../../src/contract/http.ts";
import type { EntryKind, LedgerEntry } from "../../src/contract/ledger-entries.ts";
import type { LedgerExport } from "../../src/contract/ledger-views.ts";
import { moveWithArrows } from "../frame/move-with-arrows.ts";
import { ProblemNote } from "../frame/problem-note.tsx";
import { routeTo } from "../routing.ts";
import { addresses } from "../server/resources.ts";
import { useResource } from "../server/use-resource.ts";
import { momentWords } from "../words/quantities.ts";
import { CheckPanel } from "./check-panel.tsx";
import { entryKinds, entryWords, kindWords, type Names, namesFrom } from "./entry-words.ts";
import { HowToCheck } from "./how-to-check.tsx";
import { StampsPanel } from "./stamps-panel.tsx";

/** So many entries are read at first, and so many rows are drawn at once. */
const readAtOnce = 500;
const drawnAtOnce = 100;

/** The newest entries first, in plain words, with a filter by kind; the check; and how anyone else can check. */
export function LedgerList() {
  const lab = useResource<LabView>(addresses.lab);
  const specimens = useResource<SpecimenView[]>(addresses.specimens);
  const [since, setSince] = useState<number | null>(null);
  const ledger = useResource<LedgerExport>(since === null ? null : addresses.ledger(since));
  const [kind, setKind] = useState<EntryKind | "all">("all");
  const [drawn, setDrawn] = useState(drawnAtOnce);
  const entries = lab.value?.entries ?? null;

  // Only the end of a long ledger is read, and that place stays while the ledger grows
  useEffect(() => {
    if (since === null && entries !== null) setSince(Math.max(0, entries - readAtOnce));
  }, [since, entries]);

  const read = ledger.value?.entries ?? [];
  const names = useMemo(() => {
    const labels = (specimens.value ?? []).map((one) => [one.id, one.details.label] as const);
    return namesFrom(read, new Map(labels));
  }, [read, specimens.value]);
  const found = useMemo(
    () => read.filter((one) => kind === "all" || one.kind === kind).reverse(),
    [read, kind],
  );
  const present = entryKinds.filter((one) => one === kind || read.some((entry) => entry.kind === one));

  return (
    <div class="record">
      <div class="record-head">
        <h1>Ledger</h1>
        <label class="set-choice ledger-kind">
          <span>Kind of entry</span>
          <select value={kind} onChange={(event) => setKind(event.currentTarget.value as EntryKind | "all")}>
            <option value="all">All kinds</option>
            {present.map((one) => (
              <option key={one} value={one}>
                {kindWords(one)}
              </option>
            ))}
          </select>
        </label>
      </div>
      <CheckPanel head={lab.value?.head ?? null} entries={entries} />
      <StampsPanel />
      <ProblemNote problem={ledger.problem ?? lab.problem} />
      <p class="record-count" role="status">
        {ledger.value === null
          ? "Reading the ledger."
          : `${found.length} of ${read.length} entries, newest first.${since === 0 ? "" : ` Entries 1 to ${since} are older and not read yet.`}`}
      </p>
      {found.length > 0 && <EntryTable entries={found.slice(0, drawn)} names={names} />}
      {ledger.value !== null && found.length === 0 && <p class="empty">No entry matches.</p>}
      {found.length > drawn && (
        <button type="button" onClick={() => setDrawn(drawn + drawnAtOnce)}>
          Show {Math.min(drawnAtOnce, found.length - drawn)} more
        </button>
      )}
      {since !== null && since > 0 && (
        <button type="button" onClick={() => setSince(Math.max(0, since - readAtOnce))}>
          Read {Math.min(readAtOnce, since)} older entries
        </button>
      )}
      <HowToCheck publicKey={ledger.value?.publicKey ?? null} />
    </div>
  );
}

function EntryTable({ entries, names }: { entries: readonly LedgerEntry[]; names: Names }) {
  return (
    <div class="table-frame">
      <table class="shots ledger">
        <thead>
          <tr>
            <th scope="col" class="number">
              Entry
            </th>
            <th scope="col">When</th>
            <th scope="col">Who</th>
            <th scope="col">Kind</th>
            <th scope="col">What</th>
            <th scope="col">Hash</th>
          </tr>
        </thead>
        <tbody onKeyDown={moveWithArrows("a")}>
          {entries.map((entry) => (
            <tr
              key={entry.sequence}
              onClick={() => (location.hash = routeTo("ledger", String(entry.sequence)))}
            >
              <th scope="row" class="number">
                <a
                  class="open"
                  href={routeTo("ledger", String(entry.sequence))}
                  aria-label={`Entry ${entry.sequence}`}
                >
                  {entry.sequence}
                </a>
              </th>
              <td class="tight">{momentWords(entry.at)}</td>
              <td>{entry.actor}</td>
              <td class="tight">{kindWords(entry.kind)}</td>
              <td>{entryWords(entry, names)}</td>
              <td>
                <span class="hash" title={entry.hash}>
                  {entry.hash.slice(0, 12)}…
                </span>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
