import { WarningGlyph } from "../frame/banners.tsx";

/** What a number is conditional on and what it is not; it stands beside the number, never without it. */
export function MeaningWords({ words }: { words: readonly string[] }) {
  return (
    <aside class="cautions caution-line" aria-label="What this is, and what it is not">
      <WarningGlyph />
      <ul>
        {words.map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
    </aside>
  );
}
