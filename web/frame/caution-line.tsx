import { WarningGlyph } from "./banners.tsx";

/** A caution that stands in view as long as what it speaks of is shown. */
export function CautionLine({ words }: { words: string }) {
  return (
    <aside class="cautions caution-line" aria-label="Caution">
      <WarningGlyph />
      <p>{words}</p>
    </aside>
  );
}
