import type { ComponentType } from "preact";
import { BenchPage } from "./bench/bench-page.tsx";
import { CustodyPage } from "./custody/custody-page.tsx";
import { ExhibitsPage } from "./exhibits/exhibits-page.tsx";
import { JobsPage } from "./jobs/jobs-page.tsx";
import { LedgerPage } from "./ledger/ledger-page.tsx";
import { LimitsPage } from "./limits/limits-page.tsx";
import { PeoplePage } from "./people/people-page.tsx";
import { PlanPage } from "./plan/plan-page.tsx";
import { RatesPage } from "./rates/rates-page.tsx";
import { RecordPage } from "./record/record-page.tsx";
import { SpecimensPage } from "./specimens/specimens-page.tsx";
import { StudiesPage } from "./studies/studies-page.tsx";

/** One page of the navigation. `rest` is what follows the page's name in the address. */
export interface Page {
  id: string;
  title: string;
  component: ComponentType<{ rest: string[] }>;
}

/** All pages, in the order of the navigation. A new page is one file and one line here. */
export const pages: readonly Page[] = [
  { id: "bench", title: "Bench", component: BenchPage },
  { id: "jobs", title: "Jobs", component: JobsPage },
  { id: "specimens", title: "Specimens", component: SpecimensPage },
  { id: "record", title: "Record", component: RecordPage },
  { id: "rates", title: "Failure rates", component: RatesPage },
  { id: "studies", title: "Studies", component: StudiesPage },
  { id: "plan", title: "Plan", component: PlanPage },
  { id: "limits", title: "Limits", component: LimitsPage },
  { id: "custody", title: "Custody", component: CustodyPage },
  { id: "exhibits", title: "Exhibits", component: ExhibitsPage },
  { id: "ledger", title: "Ledger", component: LedgerPage },
  { id: "people", title: "People", component: PeoplePage },
];

/** The page that opens when the address names none. */
export const firstPage = "bench";
