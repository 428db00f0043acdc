import { useEffect, useState } from "preact/hooks";

/** A value that can be read, replaced and watched. */
export interface Store<T> {
  get(): T;
  set(next: T): void;
  /** Calls `listener` after every change; the answer ends that. */
  watch(listener: (value: T) => void): () => void;
}

/** A store with a first value. Listeners are called only when the value is another one. */
export function createStore<T>(first: T): Store<T> {
  let value = first;
  const listeners = new Set<(value: T) => void>();
  return {
    get: () => value,
    set(next) {
      if (Object.is(next, value)) return;
      value = next;
      for (const listener of [...listeners]) listener(value);
    },
    watch(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}

/** The value of a store, drawn again whenever it changes. */
export function useStore<T>(store: Store<T>): T {
  const [value, setValue] = useState(store.get());
  useEffect(() => {
    setValue(() => store.get());
    return store.watch((next) => setValue(() => next));
  }, [store]);
  return value;
}
