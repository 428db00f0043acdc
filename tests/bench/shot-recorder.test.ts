import { describe, expect, it } from "vitest";
import { ShotRecorder } from "../../src/bench/shot-recorder.ts";
import { RecordingSink } from "./recording-sink.ts";

const step = 16_667;
function made(rawWanted = 1000) {
  const sink = new RecordingSink();
  return { sink, recorder: new ShotRecorder(sink, rawWanted) };
}
const sample = (t0: number, values: number[]) => ({ verb: "SAMPLE", shot: 1, t0, step, values }) as const;
const raw = (window: "onset" | "opening", t0: number, values: number[]) =>
  ({ verb: "RAW", shot: 1, window, t0, step: 100_000, values }) as const;

describe("ShotRecorder", () => {
  it("hands samples on as they come, neighbours a few microseconds askew from rounding included", () => {
    const { sink, recorder } = made();
    recorder.sample(sample(16_667, [1, 2, 3]));
    recorder.sample(sample(66_667, [4]));
    expect(sink.runs.map((run) => [run.firstEndUs, [...run.milliamps]])).toEqual([
      [16_667, [1, 2, 3]],
      [66_667, [4]],
    ]);
    expect(recorder.outOfTime).toBe(0);
  });

  it("leaves out what lies before other samples in time, and counts it", () => {
    const { sink, recorder } = made();
    recorder.sample(sample(100_000, [1, 2, 3]));
    recorder.sample(sample(120_000, [9]));
    recorder.sample(sample(50_000, [9]));
    recorder.sample(sample(150_001, [4]));
    expect(sink.count).toBe(4);
    expect(recorder.outOfTime).toBe(2);
  });

  it("counts the on-time from the onset that is known best: an event before a sample before a state", () => {
    const { recorder } = made();
    expect(recorder.onSeconds).toBe(0);
    recorder.clock(1_000_000, true);
    recorder.clock(1_500_000, true);
    expect(recorder.onSeconds).toBe(0.5);
    recorder.sample(sample(900_000 + step, [1]));
    expect(recorder.onSeconds).toBe(0.6);
    recorder.event({ verb: "EVENT", shot: 1, at: 800_000, kind: "onset" });
    expect(recorder.onSeconds).toBe(0.7);
    recorder.clock(1_400_000, true);
    expect(recorder.onSeconds).toBe(0.7);
  });

  it("joins the raw lines of a window into one, and keeps windows apart", () => {
    const { sink, recorder } = made();
    recorder.raw(raw("onset", 1000, [1, 2]));
    recorder.raw(raw("onset", 1200, [3]));
    recorder.raw(raw("opening", 9000, [4]));
    recorder.flushRaw();
    recorder.flushRaw();
    expect(sink.windows.map((one) => [one.window, one.firstAtUs, one.stepNs, [...one.milliamps]])).toEqual([
      ["onset", 1000, 100_000, [1, 2, 3]],
      ["opening", 9000, 100_000, [4]],
    ]);
  });

  it("hands a raw window on as soon as it is whole", () => {
    const { sink, recorder } = made(3);
    recorder.raw(raw("onset", 1000, [1, 2]));
    expect(sink.windows).toHaveLength(0);
    recorder.raw(raw("onset", 1200, [3]));
    expect(sink.windows).toHaveLength(1);
  });

  it("breaks a raw window where a line is missing, rather than bridging it", () => {
    const { sink, recorder } = made();
    recorder.raw(raw("onset", 1000, [1, 2]));
    recorder.raw(raw("onset", 1300, [4]));
    recorder.flushRaw();
    expect(sink.windows.map((one) => one.firstAtUs)).toEqual([1000, 1300]);
  });

  it("believes the first reason for the source going off, and keeps the rig's own result", () => {
    const { sink, recorder } = made();
    recorder.event({ verb: "EVENT", shot: 1, at: 5, kind: "off", why: "opened" });
    recorder.takeResult({
      verb: "RESULT",
      shot: 1,
      outcome: "opened",
      why: "opened",
      ontime: 7,
      rms: 8,
      samples: 9,
    });
    expect(recorder.off).toBe("opened");
    expect(recorder.result).toEqual({
      outcome: "opened",
      why: "opened",
      onTimeUs: 7,
      rmsMilliamps: 8,
      samples: 9,
    });
    expect(sink.events).toEqual([{ atUs: 5, kind: "off", why: "opened" }]);
  });
});
