import { type GateLine, type GateView, gateInput } from "../contract/gate-schema.ts";
import type { GateItem, GatePassage } from "../contract/ledger-entries.ts";
import { currentEntries } from "./amendments-current.ts";
import { dayOf, isDay } from "./calibrations.ts";
import { checkAgainstSchema } from "./check-against-schema.ts";
import { originOf } from "./entry-origin.ts";
import { InputError } from "./input-error.ts";
import type { Lab } from "./lab.ts";
import { programmeLock } from "./lock-programme.ts";
import { photographViews } from "./photographs.ts";
import { gateItems, gateItemWords, policyOf } from "./policy.ts";
import { knownSpecimen } from "./specimen-view.ts";

type Reader = Pick<Lab, "store">;

/** How an item of the gate can be brought about, for who is refused. */
const remedy: Readonly<Record<GateItem, string>> = {
  photographs: "add a photograph of the specimen that shows it as received",
  checks: "record the checks, with what was found",
  programmeLocked: "lock its programme, limit set and decision rule",
  parties: "record who was notified, when, and what they answered",
  authority: "record who gave the authority to proceed, and when",
};

/** Photographs of the specimen as received, by their hashes. */
const asReceived = (lab: Reader, specimen: string): string[] =>
  photographViews(lab, { kind: "specimen", id: specimen })
    .filter(({ record }) => record.shows === "as received")
    .map(({ record }) => record.photograph);

/** What each item of the gate is met by, in words; null where it is not met. */
function metBy(
  lab: Reader,
  specimen: string,
  passages: readonly GatePassage[],
): Record<GateItem, string | null> {
  const checks = passages.flatMap((one) => one.checks);
  const parties = passages.flatMap((one) => one.parties);
  const authority = passages.findLast((one) => one.authority !== null)?.authority;
  const pictures = asReceived(lab, specimen).length;
  const lock = programmeLock(lab, specimen);
  const several = (list: readonly string[]) => (list.length === 0 ? null : list.join("; "));
  return {
    photographs: pictures === 0 ? null : `${pictures} as received`,
    checks: several(checks.map(({ check, found }) => `${check}: ${found}`)),
    programmeLocked: lock === null ? null : `${lock.programme}, ${lock.limitSet}, by entry ${lock.sequence}`,
    parties: several(
      parties.map(({ party, notifiedOn, answer }) => `${party}, notified ${notifiedOn}: ${answer}`),
    ),
    authority: authority == null ? null : `${authority.by}, ${authority.on}`,
  };
}

function gateLines(lab: Reader, specimen: string, passages: readonly GatePassage[]): GateLine[] {
  const policy = policyOf(lab).gate;
  const met = metBy(lab, specimen, passages);
  const skipped = passages.flatMap((one) => one.skipped);
  return gateItems.map((item) => {
    const demand = policy[item];
    const by = met[item];
    if (by !== null) return { item, demand, state: "met", words: by };
    const skip = skipped.findLast((one) => one.item === item);
    if (skip !== undefined) return { item, demand, state: "skipped", words: skip.reason };
    return demand === "demanded"
      ? { item, demand, state: "missing", words: remedy[item] }
      : { item, demand, state: "not needed", words: "not demanded by the lab" };
  });
}

const passagesOf = (lab: Reader, specimen: string) =>
  currentEntries(lab, "gate-passed").filter(({ entry }) => entry.body.specimen === specimen);

/** The gate of a specimen as it stands: every item, and what was recorded. @throws NotFoundError */
export function gateView(lab: Reader, specimen: string): GateView {
  const { shots } = knownSpecimen(lab, specimen);
  const passages = passagesOf(lab, specimen);
  const lines = gateLines(
    lab,
    specimen,
    passages.map(({ entry }) => entry.body),
  );
  return {
    specimen,
    open: shots > 0 || lines.every((line) => line.state !== "missing"),
    currentHasFlowed: shots > 0,
    lines,
    passages: passages.map(({ entry, history }) => ({
      ...{ sequence: entry.sequence, at: entry.at, by: entry.actor },
      ...{ amendments: history.length, passage: entry.body },
    })),
  };
}

const missingWords = (lines: readonly GateLine[]): string =>
  lines
    .filter((line) => line.state === "missing")
    .map((line) => `${gateItemWords(line.item)} (${line.words})`)
    .join("; ");

/**
 * Records what is in place before the first current of a specimen, and what is skipped with which reason.
 *
 * @throws InputError where current has flowed already, where something that the lab demands is neither there nor skipped, where
 * something is skipped that is there, and for fields that are wrong. Nothing is stored then
 */
export function passGate(lab: Lab, specimen: string, value: unknown, where: string): GateView {
  const { details, shots } = knownSpecimen(lab, specimen);
  const { by, ...input } = checkAgainstSchema(gateInput, value, where);
  if (shots > 0)
    throw new InputError(
      `current has flowed through ${details.label} already: ${shots === 1 ? "a shot was" : `${shots} shots were`} made; the gate comes before the first`,
    );
  const passage: GatePassage = {
    specimen,
    photographs: asReceived(lab, specimen),
    programmeLock: programmeLock(lab, specimen)?.sequence ?? null,
    checks: input.checks ?? [],
    parties: input.parties ?? [],
    present: input.present ?? [],
    authority: input.authority ?? null,
    skipped: input.skipped ?? [],
    note: input.note ?? "",
  };
  checkPassage(lab, passage, where);
  const before = passagesOf(lab, specimen).map(({ entry }) => entry.body);
  const lines = gateLines(lab, specimen, [...before, passage]);
  const missing = missingWords(lines);
  if (missing !== "")
    throw new InputError(
      `${where}: the gate is not passed; still missing: ${missing}; or skip it with the reason`,
    );
  const idle = passage.skipped.find(({ item }) => lines.find((line) => line.item === item)?.state === "met");
  if (idle !== undefined)
    throw new InputError(`${where}: skipped: ${gateItemWords(idle.item)} is there and need not be skipped`);
  lab.store.ledger.append("gate-passed", passage, originOf(lab, by));
  return gateView(lab, specimen);
}

function checkPassage(lab: Lab, passage: GatePassage, where: string): void {
  const today = dayOf(lab.now());
  const days = [
    ...passage.parties.map(({ notifiedOn }, at) => ({ field: `parties.${at}.notifiedOn`, day: notifiedOn })),
    ...(passage.authority === null ? [] : [{ field: "authority.on", day: passage.authority.on }]),
  ];
  const fields = days.flatMap(({ field, day }) =>
    !isDay(day)
      ? [{ field, problem: `there is no day ${day}` }]
      : day > today
        ? [{ field, problem: `${day} lies ahead; today is ${today}` }]
        : [],
  );
  const items = passage.skipped.map(({ item }) => item);
  const twice = items.find((item, at) => items.indexOf(item) !== at);
  if (twice !== undefined) fields.push({ field: "skipped", problem: `${twice} is skipped twice` });
  if (fields.length === 0) return;
  throw new InputError(`${where}: ${fields.map((one) => `${one.field}: ${one.problem}`).join("; ")}`, fields);
}

/**
 * Asks the gate before the first current of a specimen, which alters it for good. A specimen that has been tested passes.
 *
 * @param label by which the specimen was, or is to be, received
 * @throws InputError naming everything that the lab demands and that is neither there nor skipped with a reason
 */
export function demandGate(lab: Reader, label: string): void {
  const known = lab.store.records.specimenByLabel(label);
  if (known !== null && known.shots > 0) return;
  if (Object.values(policyOf(lab).gate).every((demand) => demand === "not demanded")) return;
  const lines =
    known === null
      ? gateItems
          .filter((item) => policyOf(lab).gate[item] === "demanded")
          .map((item): GateLine => ({ item, demand: "demanded", state: "missing", words: remedy[item] }))
      : gateView(lab, known.specimen).lines;
  const missing = missingWords(lines);
  if (missing === "") return;
  const first = known === null ? "receive the specimen first, then " : "";
  throw new InputError(
    `no current through ${label} yet: every test alters it, and the lab demands before the first: ${missing}. ${first === "" ? "Bring" : `${first}bring`} it about, or record why it is skipped`,
  );
}
