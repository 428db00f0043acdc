import { useState } from "preact/hooks";
import { live } from "../live/live.ts";
import { useStore } from "../live/store.ts";

/**
 * A figure that the server draws, the same bytes as the command line writes, with a link to keep it. It is fetched again
 * whenever the ledger grew. `words` say what it shows.
 */
export function Figure({ address, words, name }: { address: string; words: string; name: string }) {
  const entries = useStore(live.ledger)?.entries ?? 0;
  const [failed, setFailed] = useState<string | null>(null);
  const fresh = `${address}${address.includes("?") ? "&" : "?"}entries=${entries}`;
  return (
    <figure class="figure">
      {failed === fresh ? (
        <p class="problem">The figure could not be drawn from these data.</p>
      ) : (
        <img src={fresh} alt={words} onError={() => setFailed(fresh)} />
      )}
      <figcaption>
        <a class="open" href={fresh} download={`${name}.svg`}>
          Keep the figure (SVG)
        </a>
      </figcaption>
    </figure>
  );
}
