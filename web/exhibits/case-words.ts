import type { CaseSubject } from "../custody/subject-chooser.tsx";

/** What exhibit and package have in common: of what they are, and what the court calls them. */
export interface CaseWords {
  subject: CaseSubject;
  /** The label of a specimen or the name of a job. */
  name: string;
  label: string;
  caseText: string;
}
