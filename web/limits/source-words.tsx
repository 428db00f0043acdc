import type { RowSource } from "../../src/core/limits/limit-set.ts";

/** Where a value comes from and how well it is known. */
export function SourceWords({ source }: { source: RowSource }) {
  const where = [source.document, source.edition, source.clause].filter((one) => one !== null).join(", ");
  return (
    <>
      {where}
      <span class="cell-more">{source.note}</span>
    </>
  );
}

/** How well a value is known, with a mark where even the memory is doubtful. */
export function StandingWords({ source }: { source: RowSource }) {
  const firm = source.standing === "read in the document" && !source.doubtful;
  return (
    <span class={firm ? "standing standing-firm" : "standing"}>
      {source.standing}
      {source.doubtful ? ", doubtful" : ""}
    </span>
  );
}
