/** Time as the people in the room have it, and the means to be called later; tests give one that they turn by hand. */
export interface WallClock {
  /** Milliseconds since some fixed moment; never goes back. */
  nowMs(): number;
  /** Calls `act` every so many milliseconds until the returned function is called. */
  every(milliseconds: number, act: () => void): () => void;
  /** Calls `act` once, as soon as everything else that waits has had its turn. */
  soon(act: () => void): void;
}

/** The wall clock of this machine. */
export const realWallClock: WallClock = {
  nowMs: () => performance.now(),
  every: (milliseconds, act) => {
    const timer = setInterval(act, milliseconds);
    return () => clearInterval(timer);
  },
  soon: (act) => {
    setImmediate(act);
  },
};
