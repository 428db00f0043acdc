import { useEffect, useState } from "preact/hooks";
import type { AmendedEntry } from "../../src/contract/amendment-schema.ts";
import type { SpecimenView } from "../../src/contract/http.ts";
import type { ReviewSubject } from "../../src/contract/ledger-entries.ts";
import { ProblemNote } from "../frame/problem-note.tsx";
import { kindWords } from "../ledger/entry-words.ts";
import { routeTo } from "../routing.ts";
import { addresses } from "../server/resources.ts";
import { useResource } from "../server/use-resource.ts";
import { AmendForm, AmendmentHistory } from "./amend-panel.tsx";
import { amendableFields } from "./amendable-fields.ts";
import { goToHistory, historyHeading } from "./amended-mark.tsx";

/**
 * What was corrected in the record of a specimen or of a shot; of a specimen also the correcting of what was written when it was
 * received. With `wanted` the page goes to it once it is there.
 */
export function AmendmentsPanel({ about, wanted }: { about: ReviewSubject; wanted: boolean }) {
  const amended = useResource<AmendedEntry[]>(addresses.amendments(about.id));
  const [correcting, setCorrecting] = useState(false);
  const isThere = amended.value !== null;
  useEffect(() => {
    if (wanted && isThere) goToHistory();
  }, [wanted, isThere]);
  return (
    <section class="panel" aria-labelledby={historyHeading.id}>
      <div class="panel-head">
        <h2 {...historyHeading}>Amendments</h2>
        {about.kind === "specimen" && (
          <button type="button" onClick={() => setCorrecting(!correcting)}>
            {correcting ? "Close" : "Correct what was received"}
          </button>
        )}
      </div>
      <ProblemNote problem={amended.problem} />
      {amended.value !== null && amended.value.length === 0 && <p>Nothing was amended.</p>}
      {(amended.value ?? []).map((entry) => (
        <div key={entry.sequence}>
          <h3>
            <a href={routeTo("ledger", String(entry.sequence))}>
              {kindWords(entry.kind)}, entry {entry.sequence}
            </a>
          </h3>
          <AmendmentHistory entry={entry} />
        </div>
      ))}
      {correcting && <Receipt specimen={about.id} onAmended={amended.reload} />}
      <p class="hint">
        {about.kind === "specimen" ? "Any other entry" : "An entry"} is corrected where it stands in the{" "}
        <a href={routeTo("ledger")}>ledger</a>; each above links to its own.
      </p>
    </section>
  );
}

/** The entry by which a specimen was received is asked for only when it is wanted. */
function Receipt({ specimen, onAmended }: { specimen: string; onAmended: () => void }) {
  const received = useResource<SpecimenView>(addresses.specimen(specimen));
  const entry = useResource<AmendedEntry>(
    received.value === null ? null : addresses.amendment(received.value.entry),
  );
  if (entry.value === null)
    return (
      <>
        <ProblemNote problem={received.problem ?? entry.problem} />
        <p class="empty">Looking for the entry.</p>
      </>
    );
  return (
    <AmendForm
      entry={entry.value}
      fields={amendableFields(entry.value)}
      onAmended={() => {
        entry.reload();
        onAmended();
      }}
    />
  );
}
