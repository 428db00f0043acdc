import { batchSamples } from "../../firmware-protocol/codec/batch-samples.ts";
import { encodeLine } from "../../firmware-protocol/codec/encode-line.ts";
import { breakerByName } from "../../firmware-protocol/emulated-rig/built-in-breakers.ts";
import { EmulatedRig } from "../../firmware-protocol/emulated-rig/emulated-rig.ts";
import { HandTurnedClock } from "../firmware-protocol/emulated-rig/hand-turned-clock.ts";
import { type Benchmark, fastestSeconds } from "./benchmark.ts";

const samples = 432_000;
const cycleUs = 1e6 / 60;

/** Holds rated current for two hours as fast as the rig can. @returns bytes said */
function holdTwoHours(): number {
  const clock = new HandTurnedClock();
  const breaker = breakerByName("sound");
  const rig = new EmulatedRig({ seed: 1, speed: Number.POSITIVE_INFINITY, breaker, ratedAmps: 20, clock });
  let bytes = 0;
  let token: string | undefined;
  let over = false;
  rig.onBytes((said) => {
    bytes += said.length;
    const text = said.length < 1000 ? Buffer.from(said).toString() : Buffer.from(said.slice(-300)).toString();
    token ??= /token=([0-9A-F]{8})/.exec(text)?.[1];
    over ||= text.includes(" RESULT ");
  });
  rig.start();
  rig.receive(
    encodeLine(0, {
      verb: "ARM",
      shot: 1,
      amps: 20_000,
      rated: 20_000,
      longest: 7_200_000,
      loading: "all",
      every: "cycle",
      raw: 0,
    }),
  );
  rig.receive(encodeLine(1, { verb: "FIRE", token: token ?? "" }));
  for (let beat = 2; !over && beat < 1000; beat += 1) {
    rig.receive(encodeLine(beat, { verb: "BEAT" }));
    clock.turn(250);
  }
  rig.stop();
  if (!over) throw new Error("the two-hour shot did not end");
  return bytes;
}

/** Writes as many samples as lines, nothing else. @returns bytes written */
function writeTwoHours(values: readonly number[]): number {
  let bytes = 0;
  for (let at = 0; at < samples; at += 600)
    for (const message of batchSamples(1, (at + 1) * cycleUs, cycleUs, values.slice(at, at + 600)))
      bytes += encodeLine(bytes % 65_536, message).length;
  return bytes;
}

/** The emulated rig at full speed. */
export const benchmarks: Benchmark[] = [
  {
    name: "emulated rig: two-hour shot, 432,000 samples, physics and lines",
    target: "within 4 times of writing the same samples as lines",
    measure() {
      const values = Array.from({ length: samples }, (_, index) => 19_900 + (index % 200));
      const baseline = fastestSeconds(3, () => writeTwoHours(values));
      const whole = fastestSeconds(3, () => holdTwoHours());
      const ratio = whole / baseline;
      const figures = `${ratio.toFixed(2)} times (${whole.toFixed(2)} s, lines alone ${baseline.toFixed(2)} s)`;
      return { figures, met: ratio <= 4 };
    },
  },
];
