import { WarningGlyph } from "../frame/banners.tsx";

/** The mark of a specimen that held where it must trip, and held again at a higher current. Nothing where there is none. */
export function JamMark({ words }: { words: string | null }) {
  if (words === null) return null;
  return (
    <p class="problem jam">
      <WarningGlyph />
      <span>
        <strong>Jam suspected.</strong> {words}
      </span>
    </p>
  );
}
