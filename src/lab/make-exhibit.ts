import type { ExhibitClass, ExhibitData, LimitSetData, SpecimenData } from "../exhibit/document-data.ts";
import type { DataTable, Figure } from "../exhibit/document-model.ts";
import { documentOfExhibit, tablesOfExhibit } from "../exhibit/document-of-exhibit.ts";
import { renderDocument } from "../exhibit/pdf/render-document.ts";
import { cautions, rateCaution } from "./cautions.ts";
import { type Subject, type SubjectRecords, subjectRecords } from "./exhibit-data.ts";
import { custodyTimelineOf, shotFigureOf, timeCurrentOf } from "./exhibit-data-figures.ts";
import { handlingOf, jobsOf } from "./exhibit-data-handling.ts";
import { InputError } from "./input-error.ts";
import type { Lab } from "./lab.ts";
import type { Publisher } from "./make-package-published-copy.ts";
import { withheldText } from "./make-package-published-copy.ts";
import { programVersion } from "./project-folder.ts";

/** What the user says of an exhibit, as free text, and its class. */
export interface ExhibitOptions {
  label?: string;
  caseText?: string;
  class?: ExhibitClass;
  /** Prefix of page numbers in Bates form. */
  bates?: string;
}

/** A finished exhibit: the document, its figures and its tables. */
export interface Exhibit {
  title: string;
  pdf: Uint8Array;
  figures: Figure[];
  tables: DataTable[];
}

/**
 * Makes the exhibit of a subject. The same records and options make the same bytes.
 *
 * @throws NotFoundError or InputError for a subject that is not there, InputError for texts that are too long
 */
export async function makeExhibit(
  lab: Lab,
  subject: Subject,
  options: ExhibitOptions = {},
): Promise<Exhibit> {
  return exhibitOf(lab, subjectRecords(lab, subject), options, null);
}

/** The exhibit of gathered records; with a publisher, of their published copies. */
export async function exhibitOf(
  lab: Lab,
  records: SubjectRecords,
  options: ExhibitOptions,
  publisher: Publisher | null,
): Promise<Exhibit> {
  const data = exhibitData(lab, records, checkedOptions(options), publisher);
  const document = documentOfExhibit(data);
  return {
    title: document.title,
    pdf: await renderDocument(document),
    figures: [
      ...data.figures.timeCurrent,
      ...[...data.figures.custody.values()].flat(),
      ...data.figures.shots.values(),
    ],
    tables: tablesOfExhibit(data),
  };
}

/** @throws InputError for a text that is not one line, or too long */
export function checkedOptions(options: ExhibitOptions): ExhibitOptions {
  for (const [field, most] of [
    ["label", 80],
    ["caseText", 120],
    ["bates", 20],
  ] as const) {
    const text = options[field];
    if (text !== undefined && (text.length > most || /\p{Cc}/u.test(text) || text.trim() === ""))
      throw new InputError(
        `${field}: found ${JSON.stringify(text.slice(0, 130))}; accepted is one line of 1 to ${most} characters`,
      );
  }
  return options;
}

function exhibitData(
  lab: Lab,
  records: SubjectRecords,
  options: ExhibitOptions,
  publisher: Publisher | null,
): ExhibitData {
  const { station, head, openShots } = records;
  const entries = publisher === null ? records.entries : records.entries.map((one) => publisher.entry(one));
  const specimens = records.specimens.map((one) => specimenData(records, one.specimen, entries, publisher));
  const limitSets = limitSetsOf(lab, records);
  const shotFigures = specimens.flatMap(({ details, shots }) =>
    shots.flatMap((shot) => {
      const figure = shotFigureOf(lab, shot, details.label);
      return figure === null ? [] : [[shot.shot, figure] as const];
    }),
  );
  const handled = specimens.map((one) => ({ one, handling: handlingOf(lab, one.specimen, publisher) }));
  return {
    subject:
      publisher !== null && "job" in records.subject
        ? { job: publisher.job(records.subject.job) }
        : records.subject,
    class: options.class ?? "summary",
    label: options.label ?? null,
    caseText: options.caseText ?? null,
    bates: options.bates ?? null,
    lab: publisher === null ? station.lab : withheldText,
    station: station.station,
    publicKey: station.publicKey,
    demo: station.demo || records.specimens.some((one) => one.demo),
    version: programVersion(),
    published: publisher !== null,
    head: publisher === null ? head : { ...head, at: head.at.slice(0, 4) },
    specimens,
    handling: handled.map(({ handling }) => handling),
    jobs: jobsOf(lab, records, publisher),
    entries,
    openShots,
    limitSets,
    cautions,
    rateCaution,
    figures: {
      timeCurrent: specimens.flatMap((one) => timeCurrentOf(one, limitSets) ?? []),
      custody: new Map(handled.map(({ one, handling }) => [one.specimen, custodyTimelineOf(one, handling)])),
      shots: new Map(shotFigures),
    },
  };
}

function specimenData(
  records: SubjectRecords,
  specimen: string,
  entries: ExhibitData["entries"],
  publisher: Publisher | null,
): SpecimenData {
  const record = records.specimens.find((one) => one.specimen === specimen);
  if (record === undefined) throw new RangeError(`specimen ${specimen} is not among the records`);
  const bodyOf = <T>(sequence: number): T => entries.find((one) => one.sequence === sequence)?.body as T;
  const moment = (at: string): string => (publisher === null ? at : at.slice(0, 4));
  return {
    specimen,
    receivedAt: moment(record.receivedAt),
    receivedSequence: record.sequence,
    details: publisher === null ? record.details : publisher.specimen(record.details, record.sequence),
    operations: record.operations,
    shots: records.shots
      .filter(({ opened }) => opened.body.specimen === specimen)
      .flatMap(({ record: { state }, opened, closed }) =>
        closed === null
          ? []
          : [
              {
                shot: opened.body.shot,
                openedAt: moment(opened.at),
                closedAt: moment(closed.at),
                // The state before the shot is the one thing of an opening that can be amended.
                opened: { ...bodyOf<typeof opened.body>(opened.sequence), state },
                closed: bodyOf<typeof closed.body>(closed.sequence),
                openedSequence: opened.sequence,
                closedSequence: closed.sequence,
                closedHash: closed.hash,
              },
            ],
      ),
  };
}

/** The sets that the shots were judged by; one that has changed since is known by its hash only. */
export function limitSetsOf(lab: Pick<Lab, "limits">, records: SubjectRecords): LimitSetData[] {
  const used = new Map(records.shots.map(({ opened }) => [opened.body.limitSetHash, opened.body.limitSet]));
  return [...used].map(([hash, id]) => {
    const held = lab.limits.all().find((set) => set.id === id && lab.limits.hashOf(id) === hash) ?? null;
    return { id, hash, held };
  });
}
