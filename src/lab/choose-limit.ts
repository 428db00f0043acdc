import type { LimitChoice } from "../contract/ledger-entries.ts";
import { canonicalJson } from "../core/evidence/canonical-json.ts";
import { sha256Hex } from "../core/evidence/sha256-hex.ts";
import { type Band, bandAt } from "../core/limits/band.ts";
import type { TestPoint } from "../core/limits/limit-set.ts";
import { chooseLimit } from "../core/limits/precedence.ts";
import type { Specimen } from "../core/specimen/specimen.ts";
import { bandOf, bandViews } from "./bands.ts";
import { InputError } from "./input-error.ts";
import type { Lab } from "./lab.ts";
import { policyOf } from "./policy.ts";

/**
 * What a shot is judged by where a band applies beside the row: the band that is named, else the newest whose codes are those of
 * the specimen. Undefined where no band applies. A hold is asked by the table alone: a band says only when a specimen trips.
 *
 * @throws InputError where the named band is not there, or has no edges at the test current, or the test is a hold
 */
export function limitChoice(
  lab: Pick<Lab, "store">,
  details: Specimen,
  point: TestPoint,
  named: string | undefined,
): LimitChoice | undefined {
  const band =
    named === undefined ? matchingBand(lab, details, point) : namedBand(lab, named, details, point);
  if (band === undefined) return undefined;
  const chosen = chooseLimit(policyOf(lab).precedence, { band, point });
  if (!chosen.ok) throw new Error(chosen.detail);
  return { by: chosen.by, band, bandHash: sha256Hex(canonicalJson(band)), words: chosen.words };
}

/** A current in the unit in which a band is drawn. */
export const inBandUnit = (band: Band, amps: number, ratedAmps: number): number =>
  band.current === "amps" ? amps : amps / ratedAmps;

const coversTest = (band: Band, details: Specimen, point: TestPoint) =>
  bandAt(band, inBandUnit(band, point.targetAmps, details.ratedAmps)) !== null;

function namedBand(lab: Pick<Lab, "store">, named: string, details: Specimen, point: TestPoint): Band {
  const band = bandOf(lab, named);
  if (point.row.requirement.kind === "hold-for") {
    throw new InputError(
      `row ${point.row.id} of ${point.limitSet} is a hold; a band says when a specimen trips, not that it holds. Leave --band out here`,
    );
  }
  if (!coversTest(band, details, point)) {
    throw new InputError(
      `band ${band.id} has no edges at the test current of ${point.targetAmps} A; both edges run over ${bandRange(band)}`,
    );
  }
  return band;
}

function bandRange({ current, minimum, maximum }: Band): string {
  const from = Math.max(minimum[0]?.[0] ?? Number.NaN, maximum[0]?.[0] ?? Number.NaN);
  const to = Math.min(minimum.at(-1)?.[0] ?? Number.NaN, maximum.at(-1)?.[0] ?? Number.NaN);
  return `${from} to ${to} ${current === "amps" ? "A" : "times rating"}`;
}

/** A band in amperes belongs to one rating, which its codes do not tell: it is used only where it is named. */
function matchingBand(lab: Pick<Lab, "store">, details: Specimen, point: TestPoint): Band | undefined {
  if (point.row.requirement.kind === "hold-for") return undefined;
  return bandViews(lab)
    .filter(
      ({ band, makeCode, typeCode }) =>
        (makeCode !== null || typeCode !== null) &&
        (makeCode === null || makeCode === details.makeCode) &&
        (typeCode === null || typeCode === details.typeCode) &&
        band.current === "multiple" &&
        coversTest(band, details, point),
    )
    .at(-1)?.band;
}
