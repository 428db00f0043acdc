import { createStore } from "../live/store.ts";
import { stopCurrent as sendStop } from "../server/resources.ts";

/** How far the stop has come. `unanswered`: sent, and sent again, without an answer so far. */
export type StopState = "none" | "sending" | "unanswered" | "answered";

export const stopState = createStore<StopState>("none");

const againMs = 400;
const longestMs = 60_000;
let repeating = false;

/**
 * Asks for the current to be switched off, and asks again until the server answers, for a minute. Every press sends one
 * request at once, whatever went before and whether or not the page believes itself connected.
 */
export async function stopCurrent(): Promise<void> {
  if (stopState.get() !== "unanswered") stopState.set("sending");
  if (await answered()) return;
  if (repeating) return;
  repeating = true;
  const until = performance.now() + longestMs;
  while (performance.now() < until) {
    await new Promise((resume) => setTimeout(resume, againMs));
    if (await answered()) break;
  }
  repeating = false;
}

async function answered(): Promise<boolean> {
  try {
    await sendStop();
    stopState.set("answered");
    return true;
  } catch {
    stopState.set("unanswered");
    return false;
  }
}
