/** Time as the people in the room have it, and the means to be called later; tests give one that they turn by hand. */
export interface WallClock {
  /** Milliseconds since some fixed moment; never goes back. */
  nowMs(): number;
  /** Calls `act` every so many milliseconds until the returned function is called. */
  every(milliseconds: number, act: () => void): () => void;
  /** Calls `act` once, as soon as everything else that waits has had its turn. */
  soon(act: () => void): void;
}

/** Nobody looking at the clock for so much longer than its own interval means that the whole process stood still. */
const standstillMs = 100;

/**
 * The wall clock of this machine, without the time for which the whole process stood still, on a slow disk for instance: a
 * rig in the host's own process cannot hear the host then, and must not take its own deafness for the host's silence.
 */
export function wallClockWhileAwake(): WallClock {
  let asleepMs = 0;
  let seenMs = performance.now();
  let usualMs = Number.POSITIVE_INFINITY;
  /** Whoever looks first after a standstill, in whatever phase of the event loop, takes it out of the count. */
  const look = (): number => {
    const nowMs = performance.now();
    const lateMs = nowMs - seenMs - usualMs;
    if (lateMs > standstillMs) asleepMs += lateMs;
    seenMs = nowMs;
    return nowMs - asleepMs;
  };
  return {
    nowMs: look,
    every: (milliseconds, act) => {
      usualMs = milliseconds;
      const timer = setInterval(() => {
        look();
        act();
      }, milliseconds);
      return () => {
        usualMs = Number.POSITIVE_INFINITY;
        clearInterval(timer);
      };
    },
    soon: (act) => {
      setImmediate(act);
    },
  };
}
