import type { CustodyLine } from "../contract/custody-schema.ts";
import type { PhotographView } from "../contract/photograph-schema.ts";
import type { HandlingData, JobData } from "../exhibit/document-data.ts";
import { custodyChain } from "./custody.ts";
import { custodyRemarks } from "./custody-remarks.ts";
import type { SubjectRecords } from "./exhibit-data.ts";
import { gateView } from "./gate.ts";
import { jobViews } from "./jobs.ts";
import type { Lab } from "./lab.ts";
import { type Publisher, withheldText } from "./make-package-published-copy.ts";
import { photographViews } from "./photographs.ts";
import { reviewView } from "./reviews.ts";

type Reader = Pick<Lab, "store">;

/** How a specimen was handled, as newest amended; with a publisher, without names, words and days. */
export function handlingOf(lab: Reader, specimen: string, publisher: Publisher | null): HandlingData {
  const about = { kind: "specimen", id: specimen } as const;
  const whole: HandlingData = {
    specimen,
    custody: custodyChain(lab, about),
    photographs: photographViews(lab, about),
    gate: gateView(lab, specimen),
    review: reviewView(lab, about),
  };
  return publisher === null ? whole : publishedHandling(lab, whole, publisher);
}

function publishedHandling(
  lab: Reader,
  { specimen, custody, photographs, gate, review }: HandlingData,
  publisher: Publisher,
): HandlingData {
  const year = (at: string): string => at.slice(0, 4);
  const { person } = publisher;
  return {
    specimen,
    custody: {
      about: custody.about,
      holder: custody.holder === null ? null : person(custody.holder),
      lines: custody.lines.map((line) => ({
        ...line,
        enteredAt: year(line.enteredAt),
        by: person(line.by),
        event: publisher.body("custody-moved", line.event, line.sequence),
      })),
      remarks: custodyRemarks(custody.lines, lab.store.records.shots({ specimen }), {
        holder: person,
        seal: publisher.seal,
        moment: (at) => momentInChain(custody.lines, at),
      }),
    },
    photographs: photographs.map((one) => publishedPhotograph(one, publisher)),
    gate: {
      ...gate,
      lines: gate.lines.map((one) => ({ ...one, words: withheldText })),
      passages: gate.passages.map((one) => ({
        ...one,
        at: year(one.at),
        by: person(one.by),
        passage: publisher.body("gate-passed", one.passage, one.sequence),
      })),
    },
    review: {
      ...review,
      words: withheldText,
      madeBy: review.madeBy.map(person),
      reviews: review.reviews.map((one) => ({
        ...one,
        at: year(one.at),
        by: person(one.by),
        review: publisher.body("record-reviewed", one.review, one.sequence),
      })),
      issues: review.issues.map((one) => ({
        ...one,
        at: year(one.at),
        by: person(one.by),
        note: withheldText,
        words: withheldText,
        review: { ...one.review, by: person(one.review.by) },
      })),
    },
  };
}

/** A moment without its day, counted from the first event of a chain, so that a gap keeps its place and its length. */
function momentInChain([first]: readonly CustodyLine[], at: string): string {
  const ms = Date.parse(at) - Date.parse(first?.event.observedAt ?? at);
  if (ms === 0) return "the first event";
  // Not rounded: the ends of a short gap late in a chain must stay apart.
  const days = Math.floor(Math.abs(ms) / 86_400_000);
  const clock = new Date(Math.abs(ms)).toISOString().slice(11, 19);
  return `${days === 0 ? "" : `${days} d `}${clock} ${ms > 0 ? "after" : "before"} the first event`;
}

const publishedPhotograph = (one: PhotographView, publisher: Publisher): PhotographView => ({
  ...one,
  at: one.at.slice(0, 4),
  by: publisher.person(one.by),
  record: publisher.body("photograph-added", one.record, one.sequence),
});

/** The jobs of the subject's specimens that were opened in the ledger, as newest amended. */
export function jobsOf(lab: Reader, { specimens }: SubjectRecords, publisher: Publisher | null): JobData[] {
  const names = new Set(specimens.flatMap(({ details }) => details.job ?? []));
  return jobViews(lab).flatMap(({ job, opened }) => {
    if (opened === null || !names.has(job)) return [];
    const photographs = photographViews(lab, { kind: "job", id: job });
    const { sequence, details } = opened;
    return [
      publisher === null
        ? { sequence, details, photographs }
        : {
            sequence,
            details: publisher.body("job-opened", details, sequence),
            photographs: photographs.map((one) => publishedPhotograph(one, publisher)),
          },
    ];
  });
}
