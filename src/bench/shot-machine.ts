import { ShotRun } from "./_shot-run.ts";
import type { ShotOrder } from "./check-shot.ts";
import type { RigSession } from "./rig-session.ts";
import type { ShotEnd, ShotSink } from "./shot-end.ts";
import { type ShotTiming, usualShotTiming } from "./shot-timing.ts";

export type { ShotOrder } from "./check-shot.ts";
export type { ShotEnd, ShotSink } from "./shot-end.ts";

/**
 * Runs one shot to its end, by the table in `shot-transitions.ts`.
 *
 * It rejects if no shot came about: the order or the rig's state forbids it, the rig refuses to arm, or `stop` came first;
 * no current has flowed then. Once FIRE is sent it resolves, whatever happens: the current is off by the rig's own word, or
 * the heartbeat has ended, without which the rig switches off by itself.
 *
 * @throws Error with the reason; RigRefusal if the rig refused to arm
 */
export async function runShot(
  session: RigSession,
  order: ShotOrder,
  sink: ShotSink,
  stop: AbortSignal,
  timing: Partial<ShotTiming> = {},
): Promise<ShotEnd> {
  const reservation = session.claim(order.shot);
  const shot = new ShotRun(session, reservation, order, sink, { ...usualShotTiming, ...timing });
  const wantStop = () => shot.happen("stop-wanted");
  stop.addEventListener("abort", wantStop);
  try {
    return await shot.run(stop.aborted);
  } finally {
    stop.removeEventListener("abort", wantStop);
    reservation.release();
  }
}
