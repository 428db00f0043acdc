import type { EntryBodies, LedgerEntry } from "../contract/ledger-entries.ts";
import type { Band } from "../core/limits/band.ts";

type Code = (field: string, text: string) => string;

/** The bands of a lab that entries hold: as they were added, and as tests were judged by them. */
export function bandsIn(entries: readonly LedgerEntry[]): Band[] {
  return entries.flatMap(({ kind, body }) => {
    if (kind === "band-added") return [(body as EntryBodies["band-added"]).band];
    if (kind !== "shot-opened") return [];
    const { choice } = body as EntryBodies["shot-opened"];
    return choice === undefined ? [] : [choice.band];
  });
}

/**
 * A verdict, or the words of a choice, in which each band and its source go by their keyed codes. A verdict so changed follows
 * from the band as it is published, word by word, so that it can still be derived again.
 *
 * @param code the code of a text, by the field in which it stands
 */
export function withBandsCoded(value: unknown, bands: readonly Band[], code: Code): unknown {
  if (typeof value === "string") return bands.reduce((text, { id }) => nameCoded(text, id, code), value);
  if (Array.isArray(value)) return value.map((one) => withBandsCoded(one, bands, code));
  if (typeof value !== "object" || value === null) return value;
  // Only a verdict by a band tells of the band's source; a table may have the same one, which is published.
  const judging = bands.filter(({ id }) => "limitSet" in value && value.limitSet === id);
  return Object.fromEntries(
    Object.entries(value).map(([name, inner]) => [
      name,
      withBandsCoded(
        judging.reduce((one, band) => sourceCoded(one, band, code), inner),
        bands,
        code,
      ),
    ]),
  );
}

/** Words of ours name a band after the word band, at the beginning of a sentence on how it is confirmed, or alone. */
function nameCoded(text: string, id: string, code: Code): string {
  const named = new RegExp(`^${id}(?=$| is (?:un)?confirmed:)|(?<=\\bband )${id}(?![a-z0-9-])`, "g");
  return text.replaceAll(named, () => code("band", id));
}

function sourceCoded(value: unknown, { source }: Band, code: Code): unknown {
  if (Array.isArray(value)) return value.map((one) => sourceCoded(one, { source } as Band, code));
  if (typeof value !== "string") return value;
  const { document, edition, clause } = source;
  const placeOf = (parts: readonly (string | null)[]): string =>
    `is that of ${parts.filter((part) => part !== null).join(", ")}`;
  const place = placeOf([
    code("document", document),
    edition,
    clause === null ? null : code("clause", clause),
  ]);
  return value.replaceAll(placeOf([document, edition, clause]), () => place);
}
