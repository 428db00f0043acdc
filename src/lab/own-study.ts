import type { StudyCounts } from "../contract/ledger-entries.ts";
import { InputError } from "./input-error.ts";
import type { Lab } from "./lab.ts";
import { stationOf } from "./open-lab.ts";
import { ratesView } from "./rates.ts";
import { readRateQuestion } from "./rates-question.ts";

/**
 * The lab's own results as counts that can stand beside studies: as found, first shot, no trip within the limit.
 *
 * @param multiple only shots at this multiple; null for any
 * @throws InputError where no specimen was decided
 */
export function ownStudy(lab: Pick<Lab, "store" | "now">, multiple: number | null): StudyCounts {
  const { total, criterion } = ratesView(
    lab,
    readRateQuestion(multiple === null ? {} : { point: String(multiple) }),
  );
  if (total.n === 0)
    throw new InputError(`the lab has no specimen of its own to pool with the studies. ${criterion}`);
  const { lab: name } = stationOf(lab);
  return {
    study: name,
    year: lab.now().getUTCFullYear(),
    stratum: "this lab's own specimens",
    criterion,
    multiple,
    tested: total.n,
    failed: total.k,
    selection: "unknown",
    riskOfBias: {},
    citation: `ledger of station ${lab.store.station}`,
  };
}
