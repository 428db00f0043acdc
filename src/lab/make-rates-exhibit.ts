import type { RateQuestion } from "../contract/rates.ts";
import type { PoolView } from "../contract/studies.ts";
import type { Figure } from "../exhibit/document-model.ts";
import { classWords } from "../exhibit/document-of-exhibit.ts";
import { caseRows, documentOfRates, type RatesData } from "../exhibit/document-rates.ts";
import { forestFigure, forestWords } from "../exhibit/forest-figure.ts";
import { renderDocument } from "../exhibit/pdf/render-document.ts";
import { ratesFigure, ratesWords } from "../exhibit/rates-figure.ts";
import { recordedStudies } from "./import-studies.ts";
import { InputError } from "./input-error.ts";
import type { Lab } from "./lab.ts";
import { checkedOptions, type Exhibit, type ExhibitOptions } from "./make-exhibit.ts";
import { stationOf } from "./open-lab.ts";
import { pool } from "./pool-request.ts";
import { readPoolQuestion } from "./pool-studies.ts";
import { programVersion } from "./project-folder.ts";
import { ratesView } from "./rates.ts";
import { rateCases } from "./rates-cases.ts";

/** Specimens that an exhibit can name. */
const mostCases = 20_000;

/** What beside the question decides an exhibit of rates. `mixedCriteria`: pool studies of different criteria, marked. */
export interface RatesExhibitOptions extends ExhibitOptions {
  mixedCriteria?: boolean;
}

/**
 * Makes the exhibit of failure rates, with the lab's own rate among the studies on record where they have one criterion. The
 * same ledger, question and options make the same bytes.
 *
 * @throws InputError for texts that are too long
 */
export async function makeRatesExhibit(
  lab: Lab,
  question: RateQuestion,
  options: RatesExhibitOptions = {},
): Promise<Exhibit> {
  const checked = checkedOptions(options);
  const station = stationOf(lab);
  const head = headOf(lab);
  // The own study is dated by the ledger rather than by the day of printing.
  const then: Lab = { ...lab, now: () => new Date(head.at) };
  const rates = ratesView(lab, question);
  const cases = rateCases(lab, question, mostCases);
  const studies = studiesBeside(then, question, options.mixedCriteria === true);
  const { figure } = rates;
  const data: RatesData = {
    frame: {
      ...{ lab: station.lab, station: station.station, head },
      ...{ label: checked.label ?? null, caseText: checked.caseText ?? null, bates: checked.bates ?? null },
      demo: station.demo || rates.specimens.inventedCounted,
      emulated: anyEmulated(lab, new Set(cases.flatMap((one) => one.shot ?? []))),
    },
    classWords: classWords[checked.class ?? "summary"],
    version: programVersion(),
    publicKey: station.publicKey,
    rates,
    cases,
    figures: {
      rates:
        figure.rows.length === 0
          ? null
          : { name: "rates", title: figure.title, words: ratesWords(figure), svg: ratesFigure(figure) },
      forest: studies?.pool == null ? null : forestOf(studies.pool),
    },
    studies,
  };
  const document = documentOfRates(data);
  return {
    title: document.title,
    pdf: await renderDocument(document),
    figures: [data.figures.rates, data.figures.forest].filter((one) => one !== null),
    tables: [caseRows(cases)],
  };
}

function headOf({ store }: Pick<Lab, "store">): RatesData["frame"]["head"] {
  const { sequence, hash } = store.ledger.head();
  const at = store.ledger.entry(sequence)?.at;
  if (at === undefined) throw new InputError("the ledger is empty");
  return { sequence, hash, at };
}

const forestOf = ({ forest }: PoolView): Figure => ({
  name: "forest",
  title: forest.title,
  words: forestWords(forest),
  svg: forestFigure(forest),
});

/** The studies on record pooled with the lab's own rate, or why they are not; null where there is no study. */
function studiesBeside(lab: Lab, { points }: RateQuestion, mixedCriteria: boolean): RatesData["studies"] {
  const recorded = recordedStudies(lab).length;
  if (recorded === 0) return null;
  const [point] = points;
  const asked = readPoolQuestion({
    withLab: "true",
    mixedCriteria: String(mixedCriteria),
    ...(points.length === 1 ? { multiple: String(point) } : {}),
  });
  let refused: string | null = null;
  for (const question of [asked, { ...asked, withLab: false }])
    try {
      return { pool: pool(lab, [], question), refused: null, recorded };
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      refused ??= error.message;
    }
  return { pool: null, refused, recorded };
}

function anyEmulated({ store }: Pick<Lab, "store">, shots: ReadonlySet<string>): boolean {
  for (const { body } of store.ledger.entries({ kind: "shot-opened" }))
    if (shots.has(body.shot) && body.rig.emulated) return true;
  return false;
}
