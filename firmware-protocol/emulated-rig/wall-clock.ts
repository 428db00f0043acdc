/** Time as the people in the room have it, and the means to be called later; tests give one that they turn by hand. */
export interface WallClock {
  /** Milliseconds since some fixed moment; never goes back. */
  nowMs(): number;
  /** Calls `act` every so many milliseconds until the returned function is called. */
  every(milliseconds: number, act: () => void): () => void;
  /** Calls `act` once, as soon as everything else that waits has had its turn. */
  soon(act: () => void): void;
}

/** A call that comes so much later than asked for means that the whole process stood still. */
const standstillMs = 100;

/**
 * The wall clock of this machine, without the time for which the whole process stood still, on a slow disk for instance: a
 * rig in the host's own process cannot hear the host then, and must not take its own deafness for the host's silence.
 */
export function wallClockWhileAwake(): WallClock {
  let asleepMs = 0;
  let shownMs = 0;
  return {
    nowMs: () => {
      shownMs = Math.max(shownMs, performance.now() - asleepMs);
      return shownMs;
    },
    every: (milliseconds, act) => {
      let calledMs = performance.now();
      const timer = setInterval(() => {
        const nowMs = performance.now();
        const lateMs = nowMs - calledMs - milliseconds;
        if (lateMs > standstillMs) asleepMs += lateMs;
        calledMs = nowMs;
        act();
      }, milliseconds);
      return () => clearInterval(timer);
    },
    soon: (act) => {
      setImmediate(act);
    },
  };
}
