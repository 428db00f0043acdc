import { addresses } from "../server/resources.ts";

/** How somebody who trusts neither the lab nor this program checks the ledger. */
export function HowToCheck({ publicKey }: { publicKey: string | null }) {
  return (
    <section class="panel" aria-labelledby="how-title">
      <div class="panel-head">
        <h2 id="how-title">How anyone can check this ledger</h2>
        <a class="button" href={addresses.ledger(0)} download="ledger.json">
          Download the ledger (JSON)
        </a>
      </div>
      <ol class="how-steps">
        <li>
          Of an entry, leave out <code>hash</code> and <code>signature</code>. Write the rest in the canonical
          form of RFC 8785: keys sorted, no blanks, UTF-8. Its SHA-256 is the entry's <code>hash</code>.
        </li>
        <li>
          <code>previous</code> is the hash of the entry before, 64 zeros in the first; numbers rise by one.
          The last hash is the head: compare it with one that was printed or sent earlier.
        </li>
        <li>
          <code>signature</code> is Ed25519 (RFC 8032) over the 32 bytes of the hash, by the station's key:{" "}
          <code class="hash">{publicKey ?? ""}</code>
        </li>
        <li>
          With this program, on a copy of the data directory:{" "}
          <code>asfound verify --data FOLDER --head HEAD</code>. It also checks samples, photographs and
          tables.
        </li>
      </ol>
      <p class="hint">
        A chain shows that nothing was changed since its head was known elsewhere. It does not show that what
        was written was true.
      </p>
    </section>
  );
}
