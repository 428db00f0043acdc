import { useEffect, useRef } from "preact/hooks";
import { live } from "../live/live.ts";
import { useStore } from "../live/store.ts";
import { currentMayFlow } from "../words/state-words.ts";
import { stopCurrent, stopState } from "./stop-current.ts";

/** Whether current may be flowing, as far as the page knows; without a connection a shot under way counts as current. */
export function useCurrentOn(): boolean {
  const rig = useStore(live.rig);
  const shot = useStore(live.shot);
  const connection = useStore(live.connection);
  if (rig?.state === "on") return true;
  if (shot === null) return false;
  return connection === "lost" || currentMayFlow(shot.state);
}

/** The stop. Red only while current may flow; it works at all times. With `takesFocus` it is focused when a test begins. */
export function StopButton({ large = false, takesFocus = false }: { large?: boolean; takesFocus?: boolean }) {
  const button = useRef<HTMLButtonElement>(null);
  const on = useCurrentOn();
  const running = useStore(live.shot) !== null;
  useEffect(() => {
    if (takesFocus && running) button.current?.focus();
    if (running) stopState.set("none");
  }, [running, takesFocus]);
  return (
    <button
      ref={button}
      type="button"
      class={`stop${on ? " stop-live" : ""}${large ? " stop-large" : ""}`}
      aria-keyshortcuts="Escape"
      onKeyDown={ignoreHeldKey}
      onClick={() => void stopCurrent()}
    >
      <svg viewBox="0 0 20 20" aria-hidden="true" focusable="false">
        <rect x="4" y="4" width="12" height="12" />
      </svg>
      Stop test
    </button>
  );
}

/** What became of the stop, and where the other one is. */
export function StopNote() {
  const state = useStore(stopState);
  return (
    <div class="stop-note">
      <p role="status">{stopWords[state]}</p>
      <p>
        Escape stops too. This is not the emergency stop. The emergency stop is the hard-wired button on the
        rig.
      </p>
    </div>
  );
}

const stopWords = {
  none: "",
  sending: "Stop is being sent.",
  answered: "Stop was received.",
  unanswered: "Stop has not been answered and is sent again. Press the hard-wired emergency stop now.",
} as const;

/** A key that is held down from the button before must not press this one. */
export function ignoreHeldKey(event: KeyboardEvent) {
  if (event.repeat && (event.key === "Enter" || event.key === " ")) event.preventDefault();
}
