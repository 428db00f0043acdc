import { useEffect, useState } from "preact/hooks";
import type { Problem } from "../../src/contract/http.ts";
import { ProblemNote } from "../frame/problem-note.tsx";
import { live } from "../live/live.ts";
import { useStore } from "../live/store.ts";
import { problemOf, requestText } from "../server/request.ts";

/**
 * A figure that the server draws, the same bytes as the command line writes, with a link to keep it. It is fetched again
 * whenever the ledger grew. `words` say what it shows.
 */
export function Figure({ address, words, name }: { address: string; words: string; name: string }) {
  const entries = useStore(live.ledger)?.entries ?? 0;
  const [place, setPlace] = useState<string | null>(null);
  const [problem, setProblem] = useState<Problem | null>(null);

  // More entries are the wish to fetch again
  useEffect(() => {
    let wanted = true;
    requestText(address).then(
      (svg) => {
        if (!wanted) return;
        setProblem(null);
        setPlace(URL.createObjectURL(new Blob([svg], { type: "image/svg+xml" })));
      },
      (error: unknown) => {
        if (!wanted) return;
        setPlace(null);
        setProblem(problemOf(error));
      },
    );
    return () => {
      wanted = false;
    };
  }, [address, entries]);
  // The place in memory is given back once another picture stands there
  useEffect(() => () => void (place !== null && URL.revokeObjectURL(place)), [place]);

  return (
    <figure class="figure">
      <ProblemNote problem={problem} />
      {place !== null && (
        <>
          <img src={place} alt={words} />
          <figcaption>
            <a class="open" href={place} download={`${name}.svg`}>
              Keep the figure (SVG)
            </a>
          </figcaption>
        </>
      )}
    </figure>
  );
}
