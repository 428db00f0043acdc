import { resultText } from "../core/limits/result-marks.ts";
import type { Finding } from "../core/limits/verdict.ts";
import { formatMultiple } from "../core/units/format-multiple.ts";
import { formatSeconds } from "../core/units/format-seconds.ts";
import {
  documentOfLetter,
  type LetterData,
  type LetterResult,
  type LetterSpecimen,
} from "../exhibit/document-letter.ts";
import { stateWords, timeWords } from "../exhibit/document-words.ts";
import { pagesOf, renderDocument } from "../exhibit/pdf/render-document.ts";
import type { FullShot, SpecimenRecord } from "../store/records.ts";
import { letterCautions } from "./cautions.ts";
import { type Subject, type SubjectRecords, subjectRecords } from "./exhibit-data.ts";
import { InputError } from "./input-error.ts";
import type { Lab } from "./lab.ts";

/** A finished letter. */
export interface Letter {
  title: string;
  pdf: Uint8Array;
}

/**
 * A page in plain words for the owner of a subject. The same records and name make the same bytes.
 *
 * @param to whom it is for, as free text; null for "the owner"
 * @throws NotFoundError or InputError for a subject that is not there, InputError for a name that is no line of 1 to 120 letters
 */
export async function makeLetter(lab: Lab, subject: Subject, to: string | null): Promise<Letter> {
  if (to !== null && (to.trim() === "" || to.length > 120 || /\p{Cc}/u.test(to)))
    throw new InputError(
      `to: found ${JSON.stringify(to.slice(0, 130))}; accepted is one line of 1 to 120 characters`,
    );
  const data = letterData(subjectRecords(lab, subject), to);
  for (const named of [8, 6, 4, 3, 2, 1, 0]) {
    const document = documentOfLetter(data, named);
    if (pagesOf(document) === 1) return { title: document.title, pdf: await renderDocument(document) };
  }
  throw new InputError("the letter does not fit on one page: the names in it are too long");
}

function letterData(records: SubjectRecords, to: string | null): LetterData {
  const { subject, station, head, specimens, shots } = records;
  const [only] = specimens;
  return {
    frame: {
      ...{ lab: station.lab, station: station.station, head, label: null, caseText: null, bates: null },
      demo: station.demo || specimens.some((one) => one.demo),
      emulated: shots.some(({ opened }) => opened.body.rig.emulated),
    },
    to,
    about: "job" in subject ? `job ${subject.job}` : `breaker ${only?.details.label ?? subject.specimen}`,
    specimens: specimens.map((one) => letterSpecimen(one, shots)),
    confirmed: shots.every(({ opened }) => opened.body.confirmed),
    onSuspicion: specimens.some(({ details }) => details.selection === "on suspicion"),
    cautions: letterCautions,
  };
}

const gravest: readonly LetterResult[] = [
  "did not protect",
  "opened too soon",
  "too near the limit",
  "not decided",
  "passed",
];

/** What a failure is to an owner. */
const failures: Readonly<Partial<Record<Finding, LetterResult>>> = {
  "no trip": "did not protect",
  "late trip": "did not protect",
  "too fast": "opened too soon",
  "nuisance trip": "opened too soon",
  "inside the guard band": "too near the limit",
};

function resultOf({ closed }: FullShot): LetterResult {
  const verdict = closed?.body.verdict;
  if (verdict === undefined) return "not tested";
  if (verdict.result === "pass") return "passed";
  if (verdict.result !== "fail") return "not decided";
  const failure = failures[verdict.finding];
  if (failure === undefined) throw new RangeError(`a fail with the finding ${verdict.finding} has no words`);
  return failure;
}

function letterSpecimen({ specimen, details }: SpecimenRecord, shots: readonly FullShot[]): LetterSpecimen {
  const own = shots.filter(({ opened, closed }) => closed !== null && opened.body.specimen === specimen);
  const decisive = own.toSorted((a, b) => gravest.indexOf(resultOf(a)) - gravest.indexOf(resultOf(b)))[0];
  const result = decisive === undefined ? "not tested" : resultOf(decisive);
  const place = [
    details.panel === undefined ? null : `panel ${details.panel}`,
    details.circuit === undefined ? null : `circuit ${details.circuit}`,
  ].filter((one) => one !== null);
  return {
    ...{ label: details.label, ratedAmps: details.ratedAmps, poles: details.poles, result },
    place: place.length === 0 ? null : place.join(", "),
    words: decisive === undefined || result === "passed" ? null : shotWords(decisive),
  };
}

function shotWords({ record, opened, closed }: FullShot): string {
  if (closed === null) return "";
  const { reading, verdict } = closed.body;
  const limit = verdict.limitSeconds === null ? "" : `; limit ${formatSeconds(verdict.limitSeconds)}`;
  const did = reading.seconds === null ? timeWords(reading) : `switched off after ${timeWords(reading)}`;
  return `${resultText(verdict.result)}, ${stateWords(record.state)}: ${did} at ${formatMultiple(opened.body.row.multiple)} of its rating${limit}.`;
}
