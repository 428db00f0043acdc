import type { SpecimenView } from "../../src/contract/http.ts";
import { specimenFields } from "../bench/specimen-fields.ts";
import { momentWords } from "../words/quantities.ts";

/** Everything that was written down of a specimen when it was received; what is not known is not shown. */
export function OriginFacts({ specimen }: { specimen: SpecimenView }) {
  const { details } = specimen;
  const known = specimenFields.flatMap(({ name, label, unit, choices }) => {
    const value = details[name];
    if (value === undefined) return [];
    const words = choices?.find(([choice]) => choice === String(value))?.[1] ?? String(value);
    return [{ name, label, words: unit === undefined ? words : `${words} ${unit}` }];
  });
  return (
    <dl class="facts facts-wide">
      {known.map(({ name, label, words }) => (
        <div key={name}>
          <dt>{label}</dt>
          <dd>{words}</dd>
        </div>
      ))}
      <div>
        <dt>Written into the ledger</dt>
        <dd>{momentWords(specimen.receivedAt)}</dd>
      </div>
      {details.emulatedBreaker !== undefined && (
        <div>
          <dt>Played by the emulated breaker</dt>
          <dd>{details.emulatedBreaker}</dd>
        </div>
      )}
    </dl>
  );
}
