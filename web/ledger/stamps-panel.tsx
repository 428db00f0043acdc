import { useEffect, useState } from "preact/hooks";
import type { StampView } from "../../src/contract/ledger-views.ts";
import { fetchFile, type MadeFile } from "../exhibits/fetch-file.ts";
import { useSending } from "../forms/use-sending.ts";
import { WarningGlyph } from "../frame/banners.tsx";
import { ProblemNote } from "../frame/problem-note.tsx";
import { live } from "../live/live.ts";
import { useStore } from "../live/store.ts";
import { routeTo } from "../routing.ts";
import { addresses } from "../server/resources.ts";
import { useResource } from "../server/use-resource.ts";
import { momentWords } from "../words/quantities.ts";
import { StampAnswerForm } from "./stamp-answer-form.tsx";

/** Time stamps of authorities over the ledger (RFC 3161): those that are kept, a request for the next, and the keeping of its answer. */
export function StampsPanel() {
  const stamps = useResource<StampView[]>(addresses.timeStamps);
  const testing = useStore(live.shot) !== null;
  return (
    <section class="panel" aria-labelledby="stamps-title">
      <h2 id="stamps-title">Time stamps</h2>
      <p class="hint">
        An authority outside the lab signs the ledger's head with its own time (RFC 3161): every entry up to
        there was written by then. This program sends nothing: make a request, have an authority answer it,
        keep the answer here.
      </p>
      <ProblemNote problem={stamps.problem} />
      {stamps.value !== null && stamps.value.length === 0 && <p>No time stamp is kept yet.</p>}
      {stamps.value !== null && stamps.value.length > 0 && <StampTable stamps={stamps.value} />}
      {(stamps.value ?? [])
        .flatMap((one) => one.remarks)
        .map((remark) => (
          <p key={remark} class="problem">
            <WarningGlyph />
            <span>{remark}</span>
          </p>
        ))}
      <div class="stamp-steps">
        <RequestStep testing={testing} />
        <StampAnswerForm testing={testing} onKept={stamps.reload} />
      </div>
      {testing && <p class="hint">A test is running; stamps are asked for and kept when it has ended.</p>}
    </section>
  );
}

function StampTable({ stamps }: { stamps: readonly StampView[] }) {
  return (
    <div class="table-frame">
      <table class="lined">
        <thead>
          <tr>
            <th scope="col">Stamped</th>
            <th scope="col">The authority's time</th>
            <th scope="col">Authority</th>
            <th scope="col">Kept</th>
          </tr>
        </thead>
        <tbody>
          {stamps.map((one) => (
            <tr key={one.sequence}>
              <th scope="row" class="tight">
                <a class="open" href={routeTo("ledger", String(one.entries))}>
                  Entries to {one.entries}
                </a>
              </th>
              <td class="tight">{momentWords(one.time)}</td>
              <td>
                {one.authority}
                <span class="cell-more">
                  serial {one.serial}, policy {one.policy}
                </span>
              </td>
              <td>
                <a class="open" href={routeTo("ledger", String(one.sequence))}>
                  Entry {one.sequence}
                </a>
                <span class="cell-more">
                  {momentWords(one.at)} by {one.by}
                </span>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

function RequestStep({ testing }: { testing: boolean }) {
  const [file, setFile] = useState<MadeFile | null>(null);
  const sending = useSending();
  useEffect(() => {
    if (file === null) return;
    const link = document.createElement("a");
    link.href = file.address;
    link.download = file.name;
    link.click();
    return () => URL.revokeObjectURL(file.address);
  }, [file]);
  return (
    <div class="form">
      <h3>1. A request over the ledger as it stands</h3>
      <ProblemNote problem={sending.problem} />
      <p role="status" class="form-done">
        {sending.done !== null &&
          file !== null &&
          `${file.name} is among your downloads. Send it to a time stamp authority, as application/timestamp-query; its answer is a file .tsr.`}
      </p>
      <div>
        <button
          type="button"
          disabled={sending.sending || testing}
          onClick={() =>
            void sending.send(
              async () => setFile(await fetchFile(addresses.timeStampRequest, "ledger.tsq")),
              "made",
            )
          }
        >
          Make a request
        </button>
      </div>
    </div>
  );
}
