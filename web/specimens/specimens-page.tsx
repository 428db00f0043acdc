import { SpecimenList } from "./specimen-list.tsx";
import { SpecimenPage } from "./specimen-page.tsx";

/** The specimens: the list of all, or one of them. */
export function SpecimensPage({ rest }: { rest: string[] }) {
  return rest[0] === undefined ? <SpecimenList /> : <SpecimenPage key={rest[0]} id={rest[0]} />;
}
