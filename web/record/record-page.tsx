import { ShotList } from "./shot-list.tsx";
import { ShotPage } from "./shot-page.tsx";

/** The record: the list of all tests, or one of them. */
export function RecordPage({ rest }: { rest: string[] }) {
  return rest[0] === undefined ? (
    <ShotList />
  ) : (
    <ShotPage key={rest[0]} id={rest[0]} historyWanted={rest[1] === "amendments"} />
  );
}
