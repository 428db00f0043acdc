import { judgeByBand } from "../core/limits/band.ts";
import type { JudgedTime } from "../core/limits/judged-time.ts";
import type { DecisionRule, Judgement } from "../core/limits/verdict.ts";
import { bandOf } from "./bands.ts";
import { InputError } from "./input-error.ts";
import type { Lab } from "./lab.ts";

/**
 * Holds one time against a band of the lab at the current as measured.
 *
 * @throws InputError where a current is missing or there is no such band
 */
export function judgeByBandByHand(
  lab: Pick<Lab, "store"> | null,
  time: JudgedTime,
  rule: DecisionRule,
  input: { band: string; rated?: number | undefined; amps?: number | undefined },
): Judgement {
  if (lab === null) throw new InputError(`to judge by the band ${input.band} its lab is needed: --data DIR`);
  const { rated, amps } = input;
  if (rated === undefined || amps === undefined)
    throw new InputError("to judge by a band --rated and --amps, the current as measured, are needed");
  const band = bandOf(lab, input.band);
  return judgeByBand(time, band, { effectiveAmps: amps, ratedAmps: rated }, rule, {
    confirmed: band.source.standing === "read in the document",
  });
}
