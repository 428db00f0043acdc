import type { PhotographRecord, PhotographView } from "../../src/contract/photograph-schema.ts";
import { routeTo } from "../routing.ts";
import { addresses } from "../server/resources.ts";
import { AmendedMark } from "./amended-mark.tsx";

/** A photograph in words, for those who do not see it. */
export const photographWords = ({ name, shows, note }: PhotographRecord): string =>
  `Photograph ${name}, shows: ${shows}${note === "" ? "" : `. ${note}`}`;

/** A photograph of a list: small, under its name; a press shows it large with all that is told of it. */
export function PhotographCard({ view, onEnlarge }: { view: PhotographView; onEnlarge: () => void }) {
  const { record, sequence, amendments } = view;
  return (
    <li>
      <figure>
        <button type="button" class="thumbnail" aria-haspopup="dialog" onClick={onEnlarge}>
          <img src={addresses.photograph(record.photograph)} alt={photographWords(record)} loading="lazy" />
        </button>
        <figcaption>
          <strong>{record.name}</strong>, shows: {record.shows}{" "}
          <AmendedMark
            count={amendments}
            name={`photograph ${record.name}`}
            href={routeTo("ledger", String(sequence))}
          />
          {record.note !== "" && <span class="cell-more">{record.note}</span>}
        </figcaption>
      </figure>
    </li>
  );
}
