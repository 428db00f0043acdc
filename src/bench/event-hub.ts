/** Tells listeners of named events; `Events` maps each name to what its listeners are given. */
export class EventHub<Events extends object> {
  readonly #listeners = new Map<keyof Events, Set<(value: never) => void>>();

  /** Adds a listener and returns the function that takes it away again. */
  on<K extends keyof Events>(name: K, listener: (value: Events[K]) => void): () => void {
    const set = this.#listeners.get(name) ?? new Set();
    this.#listeners.set(name, set);
    set.add(listener);
    return () => {
      set.delete(listener);
    };
  }

  /** Tells all listeners of `name`, in the order in which they were added. */
  tell<K extends keyof Events>(name: K, value: Events[K]): void {
    for (const listener of [...(this.#listeners.get(name) ?? [])])
      (listener as (value: Events[K]) => void)(value);
  }
}
