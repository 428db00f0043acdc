import { EntryPage } from "./entry-page.tsx";
import { LedgerList } from "./ledger-list.tsx";

/** The ledger: all entries, or one of them by its number. */
export function LedgerPage({ rest }: { rest: string[] }) {
  const number = Number(rest[0]);
  return Number.isSafeInteger(number) && number > 0 ? (
    <EntryPage key={number} sequence={number} />
  ) : (
    <LedgerList />
  );
}
