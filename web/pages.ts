import type { ComponentType } from "preact";
import { BenchPage } from "./bench/bench-page.tsx";
import { RecordPage } from "./record/record-page.tsx";
import { SpecimensPage } from "./specimens/specimens-page.tsx";

/** One page of the navigation. `rest` is what follows the page's name in the address. */
export interface Page {
  id: string;
  title: string;
  component: ComponentType<{ rest: string[] }>;
}

/** All pages, in the order of the navigation. A new page is one file and one line here. */
export const pages: readonly Page[] = [
  { id: "bench", title: "Bench", component: BenchPage },
  { id: "specimens", title: "Specimens", component: SpecimensPage },
  { id: "record", title: "Record", component: RecordPage },
];

/** The page that opens when the address names none. */
export const firstPage = "bench";
