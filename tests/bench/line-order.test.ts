import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { LineOrder } from "../../src/bench/line-order.ts";

const limits = { window: 1000, mostHeld: 500, tries: 3, retryMs: 10, mostAsked: 8 };
const modulus = 65_536;

/** A channel that loses, repeats and shuffles lines that bear numbers from `start` on. */
const channel = fc.record({
  start: fc.integer({ min: 0, max: modulus - 1 }),
  fates: fc.array(
    fc.record({ lost: fc.boolean(), twice: fc.boolean(), delay: fc.integer({ min: 0, max: 6 }) }),
    {
      minLength: 2,
      maxLength: 80,
    },
  ),
});

type Channel = typeof channel extends fc.Arbitrary<infer C> ? C : never;

/** Order in which the lines arrive; the first line is never lost or late, since order counts from it. */
function arrivals({ fates }: Channel): number[] {
  return fates
    .flatMap((fate, index) => {
      if (index === 0) return [{ index, at: -1 }];
      if (fate.lost) return [];
      const at = index + fate.delay;
      return fate.twice
        ? [
            { index, at },
            { index, at: at + 2 },
          ]
        : [{ index, at }];
    })
    .sort((a, b) => a.at - b.at)
    .map(({ index }) => index);
}

describe("LineOrder", () => {
  it("hands on every line once and in order, whatever the channel does, if lines asked for again arrive", () => {
    fc.assert(
      fc.property(channel, (made) => {
        const order = new LineOrder<number>(limits);
        const got: number[] = [];
        const take = (index: number) => {
          const arrival = order.accept((made.start + index) % modulus, 7000 + index, index, 0);
          expect(arrival.lost).toBe(0);
          expect(arrival.kind).not.toBe("strange");
          got.push(...arrival.deliver);
        };
        for (const index of arrivals(made)) take(index);
        const last = Math.max(...arrivals(made));
        for (const { first, last: end } of order.due(0).ask)
          for (let s = first; ; s = (s + 1) % modulus) {
            take((s - made.start + modulus) % modulus);
            if (s === end) break;
          }
        expect(order.missing).toBe(0);
        expect(got).toEqual(Array.from({ length: last + 1 }, (_, i) => i));
      }),
    );
  });

  it("hands on what came in order, and counts what did not, if nothing asked for ever arrives", () => {
    fc.assert(
      fc.property(channel, (made) => {
        const order = new LineOrder<number>(limits);
        const got: number[] = [];
        const came = arrivals(made);
        for (const index of came)
          got.push(...order.accept((made.start + index) % modulus, 7000 + index, index, 0).deliver);
        let lost = 0;
        for (let now = 0; order.missing > 0; now += limits.retryMs) {
          const due = order.due(now);
          got.push(...due.deliver);
          lost += due.lost;
          expect(now).toBeLessThan(100);
        }
        const distinct = [...new Set(came)].sort((a, b) => a - b);
        expect(got).toEqual(distinct);
        expect(lost).toBe(Math.max(...came) + 1 - distinct.length);
      }),
    );
  });

  it("asks for each missing line as often as allowed, in ranges no longer than allowed, and not before its time", () => {
    const order = new LineOrder<number>(limits);
    order.accept(65_530, 1, 0, 0);
    order.accept(6, 2, 1, 0);
    const asked = order.due(0).ask;
    expect(asked).toEqual([
      { first: 65_531, last: 2 },
      { first: 3, last: 5 },
    ]);
    expect(order.due(9).ask).toEqual([]);
    expect(order.due(10).ask).toEqual(asked);
    expect(order.due(20).ask).toEqual(asked);
    expect(order.due(30)).toEqual({ ask: [], deliver: [1], lost: 11 });
    expect(order.missing).toBe(0);
  });

  it("does not wait for lines that the sender no longer keeps", () => {
    const order = new LineOrder<number>(limits);
    order.accept(10, 1, 10, 0);
    order.accept(14, 2, 14, 0);
    expect(order.gone({ first: 9, last: 12 })).toEqual({ deliver: [], lost: 2 });
    expect(order.accept(13, 3, 13, 0).deliver).toEqual([13, 14]);
    expect(order.accept(11, 4, 11, 0).kind).toBe("late");
  });

  it("holds back no more lines than allowed", () => {
    const order = new LineOrder<number>({ ...limits, mostHeld: 3 });
    order.accept(0, 1, 0, 0);
    const got = [2, 3, 4].flatMap((index) => order.accept(index, index, index, 0).deliver);
    expect(got).toEqual([]);
    expect(order.accept(5, 5, 5, 0)).toMatchObject({ deliver: [2, 3, 4, 5], lost: 1 });
  });

  it("finds a number strange that was used for another line, or lies too far away", () => {
    const order = new LineOrder<number>(limits);
    for (let index = 0; index < 30; index += 1) order.accept(index, 100 + index, index, 0);
    expect(order.accept(3, 103, 3, 0).kind).toBe("duplicate");
    expect(order.accept(3, 999, 3, 0).kind).toBe("strange");
    expect(order.accept(2000, 1, 1, 0).kind).toBe("strange");
    expect(order.accept(65_000, 1, 1, 0).kind).toBe("strange");
    expect(order.accept(30, 130, 30, 0)).toMatchObject({ kind: "fresh", deliver: [30], newest: true });
  });

  it("keeps its memory bounded and goes round the numbers without end", () => {
    const order = new LineOrder<number>(limits);
    let count = 0;
    for (let index = 0; index < 200_000; index += 1)
      count += order.accept(index % modulus, index % 1009, index, 0).deliver.length;
    expect(count).toBe(200_000);
  });
});
