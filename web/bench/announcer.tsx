import type { CurrentShot } from "../../src/contract/http.ts";
import { type ClosedShot, live } from "../live/live.ts";
import { useStore } from "../live/store.ts";
import { courseWords } from "../words/state-words.ts";
import { outcomeWords, resultWords } from "../words/verdict-words.ts";

/** What those who hear the page are told of a test: each state as it begins, and the verdict at the end. */
export function announcement(shot: CurrentShot | null, closed: ClosedShot | null): string {
  if (shot !== null) return courseWords(shot);
  if (closed === null) return "";
  return `${resultWords[closed.verdict.result].word}. ${closed.shot.specimen.details.label} ${outcomeWords(closed.reading)}.`;
}

/** Stays in the page all the time, because a region that comes with its text is not read out. */
export function Announcer() {
  const shot = useStore(live.shot);
  const closed = useStore(live.closed);
  return (
    <p class="for-ears" role="status" aria-live="polite">
      {announcement(shot, closed)}
    </p>
  );
}
