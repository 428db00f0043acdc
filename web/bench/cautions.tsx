import { WarningGlyph } from "../frame/banners.tsx";

/** The cautions, always in view where current is driven. They stand here too, should the server not have told its own yet. */
const whileUnknown = [
  "Current injection burns, arcs and can rupture a breaker. Qualified persons only. The emergency stop is the hard-wired button on the rig.",
];

export function Cautions({ cautions }: { cautions: readonly string[] | null }) {
  return (
    <aside class="cautions" aria-label="Cautions">
      <WarningGlyph />
      <ul>
        {(cautions ?? whileUnknown).map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
    </aside>
  );
}
