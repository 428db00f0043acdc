import type { RatesQuery } from "../contract/rates.ts";
import { zipFiles } from "../exchange/zip-files.ts";
import type { StoreCheck } from "../store/verify-store.ts";
import type { Subject } from "./exhibit-data.ts";
import type { Lab } from "./lab.ts";
import { type ExhibitOptions, makeExhibit } from "./make-exhibit.ts";
import { makeLabels } from "./make-labels.ts";
import { makeLetter } from "./make-letter.ts";
import { makePackage, type PackageOptions } from "./make-package.ts";
import { makeRatesExhibit, type RatesExhibitOptions } from "./make-rates-exhibit.ts";
import { readRateQuestion } from "./rates-question.ts";
import { verifyData } from "./verify-data.ts";

/** What takes seconds of work, as plain data that can be sent to another thread. */
export type WorkshopJob =
  | { make: "exhibit"; subject: Subject; options: ExhibitOptions }
  | { make: "rates exhibit"; query: RatesQuery; options: RatesExhibitOptions }
  | { make: "letter"; subject: Subject; to: string | null }
  | { make: "labels"; which: Parameters<typeof makeLabels>[1]; skip: number }
  | { make: "package"; subject: Subject; options: PackageOptions }
  | { make: "check"; knownHead?: string };

/** Bytes of a document or of a zip; of a check, what was found. */
export type WorkshopResult<J extends WorkshopJob> = J extends { make: "check" } ? StoreCheck : Uint8Array;

/**
 * Does a job on an open lab, which is only read.
 *
 * @throws InputError, NotFoundError or StoreError as what makes the document does
 */
export async function doWorkshopJob(lab: Lab, job: WorkshopJob): Promise<Uint8Array | StoreCheck> {
  switch (job.make) {
    case "exhibit":
      return (await makeExhibit(lab, job.subject, job.options)).pdf;
    case "rates exhibit":
      return (await makeRatesExhibit(lab, readRateQuestion(job.query), job.options)).pdf;
    case "letter":
      return (await makeLetter(lab, job.subject, job.to)).pdf;
    case "labels":
      return (await makeLabels(lab, job.which, job.skip)).pdf;
    case "package":
      return zipFiles(await makePackage(lab, job.subject, job.options));
    case "check":
      return verifyData(lab.store.dataDir, job.knownHead === undefined ? {} : { knownHead: job.knownHead });
  }
}
