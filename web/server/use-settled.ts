import { useEffect, useState } from "preact/hooks";

/** A value once it has stood still for a moment, so that typing does not ask the server at every key. */
export function useSettled<T>(value: T, settleMs = 350): T {
  const [settled, setSettled] = useState(value);
  useEffect(() => {
    const timer = setTimeout(() => setSettled(value), settleMs);
    return () => clearTimeout(timer);
  }, [value, settleMs]);
  return settled;
}
