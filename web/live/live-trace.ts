/** Current against time, as two arrays of one length. Seconds since the current began, amperes true RMS. */
export interface TraceArrays {
  seconds: Float64Array;
  amps: Float64Array;
}

/** The trace of the shot under way: every sample kept, and a thinned copy that is quick to draw. */
export interface LiveTrace {
  /** Adds samples. One that is not later than the last one is left out: the record has it, the live picture does without. */
  append(seconds: ArrayLike<number>, amps: ArrayLike<number>): void;
  reset(): void;
  /** Number of samples so far. */
  count(): number;
  last(): { seconds: number; amps: number } | null;
  /** At most `drawn` points over the whole shot; the lowest and the highest of each stretch are kept. */
  thinned(): TraceArrays;
  /** Every sample of the last so many seconds. */
  tail(lastSeconds: number): TraceArrays;
}

/**
 * An empty trace. Samples lie in typed arrays that double when full. For drawing they are gathered in stretches of equal
 * count, and each stretch is drawn as its lowest and its highest sample; when there are `drawn / 2` stretches, neighbours
 * are joined. So the cost of a picture does not grow with the length of the shot.
 *
 * @throws RangeError if `drawn` is not a multiple of 4, which lets neighbours be joined in pairs
 */
export function createLiveTrace(drawn = 4000): LiveTrace {
  if (!Number.isInteger(drawn) || drawn < 4 || drawn % 4 !== 0)
    throw new RangeError(`points to draw: found ${drawn}; a multiple of 4 from 4 on is accepted`);
  const most = drawn / 2;
  let seconds = new Float64Array(1024);
  let amps = new Float64Array(1024);
  let size = 0;
  let perStretch = 1;
  let inOpenStretch = 0;
  let stretches = 0;
  // Index of the lowest and of the highest sample of each stretch.
  const lowest = new Uint32Array(most);
  const highest = new Uint32Array(most);

  const at = (array: Float64Array, index: number) => array[index] ?? Number.NaN;
  const lower = (a: number, b: number) => (at(amps, b) < at(amps, a) ? b : a);
  const higher = (a: number, b: number) => (at(amps, b) > at(amps, a) ? b : a);

  function joinNeighbours() {
    for (let i = 0; i < stretches / 2; i++) {
      lowest[i] = lower(lowest[2 * i] ?? 0, lowest[2 * i + 1] ?? 0);
      highest[i] = higher(highest[2 * i] ?? 0, highest[2 * i + 1] ?? 0);
    }
    stretches /= 2;
    perStretch *= 2;
  }

  function add(second: number, amp: number) {
    if (size > 0 && !(second > at(seconds, size - 1))) return;
    if (size === seconds.length) {
      seconds = grown(seconds);
      amps = grown(amps);
    }
    const index = size++;
    seconds[index] = second;
    amps[index] = amp;
    if (inOpenStretch === 0) {
      if (stretches === most) joinNeighbours();
      lowest[stretches] = index;
      highest[stretches] = index;
      stretches++;
    } else {
      lowest[stretches - 1] = lower(lowest[stretches - 1] ?? index, index);
      highest[stretches - 1] = higher(highest[stretches - 1] ?? index, index);
    }
    inOpenStretch = (inOpenStretch + 1) % perStretch;
  }

  return {
    append(newSeconds, newAmps) {
      const length = Math.min(newSeconds.length, newAmps.length);
      for (let i = 0; i < length; i++) add(newSeconds[i] ?? Number.NaN, newAmps[i] ?? Number.NaN);
    },
    reset() {
      size = 0;
      perStretch = 1;
      inOpenStretch = 0;
      stretches = 0;
    },
    count: () => size,
    last: () => (size === 0 ? null : { seconds: at(seconds, size - 1), amps: at(amps, size - 1) }),
    thinned() {
      const x = new Float64Array(2 * stretches);
      const y = new Float64Array(2 * stretches);
      let length = 0;
      for (let i = 0; i < stretches; i++) {
        const one = lowest[i] ?? 0;
        const other = highest[i] ?? 0;
        const [first, second] = one <= other ? [one, other] : [other, one];
        x[length] = at(seconds, first);
        y[length++] = at(amps, first);
        if (second === first) continue;
        x[length] = at(seconds, second);
        y[length++] = at(amps, second);
      }
      return { seconds: x.subarray(0, length), amps: y.subarray(0, length) };
    },
    tail(lastSeconds) {
      const from = at(seconds, size - 1) - lastSeconds;
      let start = size;
      while (start > 0 && at(seconds, start - 1) >= from) start--;
      return { seconds: seconds.subarray(start, size), amps: amps.subarray(start, size) };
    },
  };
}

function grown(array: Float64Array<ArrayBuffer>): Float64Array<ArrayBuffer> {
  const next = new Float64Array(array.length * 2);
  next.set(array);
  return next;
}
