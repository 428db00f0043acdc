/**
 * A repeatable source of random numbers: the same seed and the same calls give the same numbers on every machine.
 *
 * Generator: xoshiro128** 1.1, Blackman and Vigna (2018), "Scrambled linear pseudorandom number generators",
 * https://prng.di.unimi.it/xoshiro128starstar.c. A state is made from a seed and a label by FNV-1a (Fowler, Noll and Vo)
 * and the finaliser of MurmurHash3 (Appleby), so that each use has a stream of its own and no use disturbs another.
 */
export class SeededRandom {
  readonly #state: Uint32Array;
  #spareNormal: number | null = null;

  /**
   * @param state four 32-bit words, not all zero
   * @throws RangeError for any other state
   */
  constructor(state: readonly [number, number, number, number]) {
    this.#state = Uint32Array.from(state);
    if (this.#state.every((word) => word === 0))
      throw new RangeError("the state of the generator must not be all zero, found 0, 0, 0, 0");
  }

  /** The stream for one use of a seed, named by a label such as `source 3`. */
  static stream(seed: number, label: string): SeededRandom {
    let hash = 0x811c9dc5;
    for (const byte of `${seed} ${label}`) hash = Math.imul(hash ^ byte.charCodeAt(0), 0x01000193);
    const word = (index: number) => {
      let mixed = (hash + Math.imul(index, 0x9e3779b9)) | 0;
      mixed = Math.imul(mixed ^ (mixed >>> 16), 0x85ebca6b);
      mixed = Math.imul(mixed ^ (mixed >>> 13), 0xc2b2ae35);
      return (mixed ^ (mixed >>> 16)) >>> 0;
    };
    return new SeededRandom([word(1), word(2), word(3), word(4)]);
  }

  /** The next 32 random bits as an integer from 0 to 4294967295. */
  uint32(): number {
    const s = this.#state;
    const s0 = s[0] as number;
    const s1 = s[1] as number;
    const s2 = s[2] as number;
    const s3 = s[3] as number;
    const scrambled = Math.imul(rotateLeft(Math.imul(s1, 5), 7), 9) >>> 0;
    s[2] = s2 ^ s0;
    s[3] = s3 ^ s1;
    s[1] = s1 ^ (s[2] as number);
    s[0] = s0 ^ (s[3] as number);
    s[2] = (s[2] as number) ^ (s1 << 9);
    s[3] = rotateLeft(s[3] as number, 11);
    return scrambled;
  }

  /** Uniform in [0, 1). */
  uniform(): number {
    return this.uint32() / 4_294_967_296;
  }

  /** A whole number from 0 to `count` - 1. */
  index(count: number): number {
    return Math.floor(this.uniform() * count);
  }

  /** True with the given probability. */
  chance(probability: number): boolean {
    return probability > 0 && this.uniform() < probability;
  }

  /** Normal with mean 0 and standard deviation 1, by the polar method: Marsaglia and Bray (1964). */
  normal(): number {
    if (this.#spareNormal !== null) {
      const spare = this.#spareNormal;
      this.#spareNormal = null;
      return spare;
    }
    for (;;) {
      const x = 2 * this.uniform() - 1;
      const y = 2 * this.uniform() - 1;
      const square = x * x + y * y;
      if (square >= 1 || square === 0) continue;
      const factor = Math.sqrt((-2 * Math.log(square)) / square);
      this.#spareNormal = y * factor;
      return x * factor;
    }
  }

  /**
   * Lognormal with median 1; `sigma` is the standard deviation of its logarithm, cut off at three of them: what lies
   * further out does not leave a factory.
   */
  scatter(sigma: number): number {
    return Math.exp(sigma * Math.max(-3, Math.min(3, this.normal())));
  }
}

function rotateLeft(word: number, bits: number): number {
  return (word << bits) | (word >>> (32 - bits));
}
