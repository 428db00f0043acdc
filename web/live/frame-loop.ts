/**
 * Draws at most once per animation frame, and counts for every message how many frames lay between the line and the picture.
 * It runs only while `keepRunning` says so or something waits to be drawn.
 */
export interface FrameLoop {
  /** Calls `draw` in every frame in which something changed; the answer ends that. */
  onDraw(draw: () => void): () => void;
  /** Something changed. `sentMs` is the sender's clock (milliseconds since 1970) where the change came over the line. */
  changed(sentMs?: number): void;
  readonly delay: FrameDelay;
}

/** Frames from a message to its picture, newest last, at most 2,000 messages. */
export interface FrameDelay {
  /** Frames begun since the message arrived in the page, up to the one that drew it. 1 is the very next frame. */
  fromArrival: number[];
  /** Frames begun since the sender's time stamp. Sender and page must share a clock, as on one machine. */
  fromLine: number[];
}

const longestDelayList = 2000;
const framesRemembered = 240;

/** The browser's parts that the loop needs; a test brings its own. */
export interface FrameClock {
  requestFrame(callback: (timeMs: number) => void): void;
  /** What to add to a frame's time to get milliseconds since 1970. */
  originMs: number;
}

export function createFrameLoop(clock: FrameClock, keepRunning: () => boolean): FrameLoop {
  const draws = new Set<() => void>();
  const delay: FrameDelay = { fromArrival: [], fromLine: [] };
  const frameTimes: number[] = [];
  let frame = 0;
  let running = false;
  let waiting = false;
  let messages: { sentMs: number; arrivedInFrame: number }[] = [];

  function remember(list: number[], value: number) {
    list.push(value);
    if (list.length > longestDelayList) list.splice(0, list.length - longestDelayList);
  }

  function tick(timeMs: number) {
    frame++;
    frameTimes.push(clock.originMs + timeMs);
    if (frameTimes.length > framesRemembered) frameTimes.shift();
    if (waiting) {
      waiting = false;
      for (const draw of [...draws]) draw();
      for (const { sentMs, arrivedInFrame } of messages) {
        remember(delay.fromArrival, frame - arrivedInFrame);
        remember(delay.fromLine, frameTimes.filter((time) => time >= sentMs).length);
      }
      messages = [];
    }
    running = waiting || keepRunning();
    if (running) clock.requestFrame(tick);
  }

  return {
    delay,
    onDraw(draw) {
      draws.add(draw);
      return () => draws.delete(draw);
    },
    changed(sentMs) {
      waiting = true;
      if (sentMs !== undefined) messages.push({ sentMs, arrivedInFrame: frame });
      if (running) return;
      running = true;
      clock.requestFrame(tick);
    },
  };
}
