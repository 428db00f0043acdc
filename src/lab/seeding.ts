import type { LiveMessage, SeedingView } from "../contract/http.ts";

/** Progress of the demo lab's own shots, told to whoever listens. */
export class Seeding {
  #view: SeedingView | null = null;
  readonly #listeners = new Set<(message: LiveMessage) => void>();

  view(): SeedingView | null {
    return this.#view;
  }

  /** Sets the progress; null when done. */
  set(view: SeedingView | null): void {
    this.#view = view;
    for (const tell of this.#listeners) tell({ kind: "seeding", seeding: view });
  }

  /** Calls `tell` at every change; the answer ends that. */
  listen(tell: (message: LiveMessage) => void): () => void {
    this.#listeners.add(tell);
    return () => this.#listeners.delete(tell);
  }
}
