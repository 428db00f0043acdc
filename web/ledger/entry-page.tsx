import { useMemo } from "preact/hooks";
import type { AmendedEntry } from "../../src/contract/amendment-schema.ts";
import type { LabView, SpecimenView } from "../../src/contract/http.ts";
import type { LedgerEntry } from "../../src/contract/ledger-entries.ts";
import type { LedgerExport } from "../../src/contract/ledger-views.ts";
import { signatureWords } from "../../src/contract/signature-words.ts";
import { bytesOfHex } from "../../src/core/evidence/hex-bytes.ts";
import { entryHash, genesisHash } from "../../src/core/evidence/ledger-chain.ts";
import { verifySignature } from "../../src/core/evidence/signature.ts";
import { AmendPanel } from "../custody/amend-panel.tsx";
import { ProblemNote } from "../frame/problem-note.tsx";
import { routeTo } from "../routing.ts";
import { addresses } from "../server/resources.ts";
import { useResource } from "../server/use-resource.ts";
import { momentWords } from "../words/quantities.ts";
import { BodyFacts } from "./body-facts.tsx";
import { entryWords, kindWords, namesFrom } from "./entry-words.ts";

/** One entry, whole: what it says, its hash and signature computed anew in this page, what it was amended to. */
export function EntryPage({ sequence }: { sequence: number }) {
  const ledger = useResource<LedgerExport>(addresses.ledgerEntry(sequence));
  const lab = useResource<LabView>(addresses.lab);
  const specimens = useResource<SpecimenView[]>(addresses.specimens);
  const amended = useResource<AmendedEntry>(addresses.amendment(sequence));
  const entries = ledger.value?.entries ?? [];
  const entry = entries.find((one) => one.sequence === sequence) ?? null;
  const before = entries.find((one) => one.sequence === sequence - 1) ?? null;
  const names = useMemo(() => {
    const labels = (specimens.value ?? []).map((one) => [one.id, one.details.label] as const);
    return namesFrom(entry === null ? [] : [entry], new Map(labels));
  }, [entry, specimens.value]);
  return (
    <article class="record" aria-labelledby="entry-title">
      <nav aria-label="Back and on" class="shot-back">
        <a class="open" href={routeTo("ledger")}>
          All entries
        </a>
        {sequence > 1 && (
          <a class="open" href={routeTo("ledger", String(sequence - 1))}>
            Entry {sequence - 1}
          </a>
        )}
        {lab.value !== null && sequence < lab.value.entries && (
          <a class="open" href={routeTo("ledger", String(sequence + 1))}>
            Entry {sequence + 1}
          </a>
        )}
      </nav>
      <ProblemNote problem={ledger.problem} />
      {ledger.loading && <p class="empty">Reading the entry.</p>}
      {ledger.value !== null && entry === null && <p class="empty">The ledger has no entry {sequence}.</p>}
      {entry !== null && (
        <>
          <header class="shot-head">
            <h1 id="entry-title">
              Entry {sequence}: {kindWords(entry.kind)}
            </h1>
            <p>{entryWords(entry, names)}</p>
            <p class="hint">
              Written {momentWords(entry.at)} ({entry.at}) by {entry.actor} ({signatureWords(entry)}) at
              station {entry.station}.
            </p>
          </header>
          <section class="panel" aria-labelledby="body-title">
            <h2 id="body-title">What it says</h2>
            <BodyFacts body={entry.body} />
          </section>
          {amended.value !== null && (
            <AmendPanel key={sequence} entry={amended.value} onAmended={amended.reload} />
          )}
          <SealFacts entry={entry} before={before} publicKey={ledger.value?.publicKey ?? ""} />
        </>
      )}
    </article>
  );
}

function SealFacts({
  entry,
  before,
  publicKey,
}: {
  entry: LedgerEntry;
  before: LedgerEntry | null;
  publicKey: string;
}) {
  const hashIs = useMemo(() => entryHash(entry) === entry.hash, [entry]);
  const signatureIs = useMemo(
    () => verifySignature(bytesOfHex(entry.hash, 32) ?? new Uint8Array(), entry.signature, publicKey),
    [entry, publicKey],
  );
  const expected = entry.sequence === 1 ? genesisHash : (before?.hash ?? null);
  return (
    <section class="panel" aria-labelledby="seal-title">
      <h2 id="seal-title">Hash, chain and signature</h2>
      <p class="hint">This page has computed each of the three anew from the entry.</p>
      <dl class="facts facts-wide">
        <Fact
          name="Hash"
          text={entry.hash}
          fits={hashIs}
          good="is that of the entry"
          bad="is not that of the entry"
        />
        <Fact
          name="Previous"
          text={entry.previous}
          fits={expected === null ? null : entry.previous === expected}
          good={
            entry.sequence === 1 ? "is the first: 64 zeros" : `is the hash of entry ${entry.sequence - 1}`
          }
          bad={`is not the hash of entry ${entry.sequence - 1}`}
        />
        <Fact
          name="Signature"
          text={entry.signature}
          fits={signatureIs}
          good="was made with the station's key"
          bad="was not made with the station's key"
        />
      </dl>
    </section>
  );
}

function Fact({
  name,
  text,
  fits,
  good,
  bad,
}: {
  name: string;
  text: string;
  fits: boolean | null;
  good: string;
  bad: string;
}) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>
        <span class="hash">{text}</span>
        {fits !== null && (
          <strong class={fits ? "" : "field-problem"}>{fits ? `✓ ${good}` : `✗ ${bad}`}</strong>
        )}
      </dd>
    </div>
  );
}
