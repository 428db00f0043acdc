import type { ConfirmedLimitSetView } from "../../src/contract/confirmation.ts";
import { ProblemNote } from "../frame/problem-note.tsx";
import { routeTo } from "../routing.ts";
import { addresses } from "../server/resources.ts";
import { useResource } from "../server/use-resource.ts";
import { ConfirmForm } from "./confirm-form.tsx";
import { InstantaneousTable } from "./instantaneous-table.tsx";
import { RowTable } from "./row-table.tsx";

/** The set that opens where none is chosen: the one by which a specimen is tested where nobody chooses another. */
const shownFirst = "ul-489-calibration";

/** Every limit set; the chosen one with all its rows, their sources, and the lab's own confirmations. */
export function SetsPart({ chosen }: { chosen: string | null }) {
  const sets = useResource<ConfirmedLimitSetView[]>(addresses.limitSets);
  const all = sets.value ?? [];
  const view =
    all.find(({ set }) => set.id === chosen) ?? all.find(({ set }) => set.id === shownFirst) ?? all[0];
  return (
    <>
      <ProblemNote problem={sets.problem} />
      {sets.loading && <p class="empty">Reading the limit sets.</p>}
      <nav class="set-list" aria-label="Limit sets">
        {all.map(({ set, confirmed, confirmedRows }) => (
          <a
            key={set.id}
            class="button part-link"
            href={routeTo("limits", "sets", set.id)}
            aria-current={set.id === view?.set.id ? "page" : undefined}
          >
            <span>
              {set.title}
              <span class="cell-more">
                {confirmed
                  ? "confirmed by this lab"
                  : confirmedRows.length > 0
                    ? `${confirmedRows.length} of ${set.rows.length} rows confirmed`
                    : "not confirmed by this lab"}
              </span>
            </span>
          </a>
        ))}
      </nav>
      {view !== undefined && <SetPanel key={view.set.id} view={view} onConfirmed={sets.reload} />}
    </>
  );
}

function SetPanel({ view, onConfirmed }: { view: ConfirmedLimitSetView; onConfirmed: () => void }) {
  const { set, confirmedRows, confirmations } = view;
  return (
    <section class="panel" aria-labelledby="set-title">
      <h2 id="set-title">{set.title}</h2>
      <p>{set.about}</p>
      <p class="hint">
        Name: {set.id}.{" "}
        {set.limitIncludesGuardBand
          ? "Its limits already contain a margin for measurement error, so that no further guard band is taken off."
          : "Its limits contain no margin for measurement error."}
      </p>
      {set.rows.length > 0 && <RowTable rows={set.rows} confirmed={confirmedRows} />}
      {set.instantaneous !== undefined && <InstantaneousTable rows={set.instantaneous} />}
      <h3>Confirmations</h3>
      {confirmations.length === 0 ? (
        <p>
          This lab has not yet compared the set with its own copy of the document. Every verdict by it says
          so.
        </p>
      ) : (
        <ul class="reasons">
          {confirmations.map((one) => (
            <li key={`${one.on} ${one.by} ${one.rows.join(" ")}`}>
              {one.on}, {one.by}: {one.rows.length} {one.rows.length === 1 ? "row" : "rows"} compared with{" "}
              {one.document}, {one.edition}.{one.note === "" ? "" : ` ${one.note}`}
              {one.holds ? "" : " The set has changed since: this no longer holds."}
            </li>
          ))}
        </ul>
      )}
      {set.rows.length > 0 && <ConfirmForm view={view} onConfirmed={onConfirmed} />}
    </section>
  );
}
