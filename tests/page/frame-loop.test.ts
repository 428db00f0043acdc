import { describe, expect, it } from "vitest";
import { createFrameLoop } from "../../web/live/frame-loop.ts";

/** Frames by hand: `next` begins one. */
function handClock() {
  let waiting: ((timeMs: number) => void)[] = [];
  let timeMs = 0;
  return {
    clock: {
      originMs: 1000,
      requestFrame: (callback: (timeMs: number) => void) => {
        waiting.push(callback);
      },
    },
    next() {
      timeMs += 16;
      const callbacks = waiting;
      waiting = [];
      for (const callback of callbacks) callback(timeMs);
    },
    pending: () => waiting.length,
  };
}

describe("createFrameLoop()", () => {
  it("draws once per frame, however many messages came", () => {
    const hand = handClock();
    const loop = createFrameLoop(hand.clock, () => false);
    let drawn = 0;
    loop.onDraw(() => drawn++);
    loop.changed(1000);
    loop.changed(1001);
    loop.changed(1002);
    expect(drawn).toBe(0);
    hand.next();
    expect(drawn).toBe(1);
    expect(loop.delay.fromArrival).toEqual([1, 1, 1]);
  });

  it("rests when nothing is to be drawn, and wakes again", () => {
    const hand = handClock();
    const loop = createFrameLoop(hand.clock, () => false);
    let drawn = 0;
    loop.onDraw(() => drawn++);
    loop.changed();
    hand.next();
    expect(hand.pending()).toBe(0);
    loop.changed();
    hand.next();
    expect(drawn).toBe(2);
  });

  it("counts the frames that began since the sender's stamp", () => {
    const hand = handClock();
    const loop = createFrameLoop(hand.clock, () => true);
    loop.changed();
    for (let i = 0; i < 5; i++) hand.next();
    // Five frames began at 1016, 1032, 1048, 1064 and 1080; this was sent before the fourth and arrives after the fifth.
    loop.changed(1060);
    hand.next();
    expect(loop.delay.fromArrival).toEqual([1]);
    expect(loop.delay.fromLine).toEqual([3]);
  });

  it("no longer calls who has left", () => {
    const hand = handClock();
    const loop = createFrameLoop(hand.clock, () => false);
    let drawn = 0;
    const leave = loop.onDraw(() => drawn++);
    leave();
    loop.changed();
    hand.next();
    expect(drawn).toBe(0);
  });
});
