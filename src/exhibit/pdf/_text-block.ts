import { type Cursor, contentWidth, type Letters, lineHeight, paper } from "./_page.ts";
import { structureElement } from "./_structure.ts";

/** Draws a paragraph or heading as one tagged element, over as many pages as it needs. */
export function drawText(
  cursor: Cursor,
  tag: "H1" | "H2" | "P",
  text: string,
  letters: Letters,
  space: { before: number; after: number; keepWithNext?: number },
): void {
  const lines = cursor.lines(text, letters, contentWidth);
  const height = lineHeight(letters);
  if (cursor.y > paper.top) cursor.y += space.before;
  cursor.demand(Math.min(lines.length, 3) * height + (space.keepWithNext ?? 0));
  const { document } = cursor;
  const element = structureElement(document, tag);
  document.addStructure(element);
  let rest = lines;
  while (rest.length > 0) {
    const fits = Math.max(1, Math.floor(cursor.room / height));
    const now = rest.slice(0, fits);
    element.add(() => cursor.draw(now, letters, paper.left, cursor.y));
    cursor.y += now.length * height;
    rest = rest.slice(fits);
    if (rest.length > 0) cursor.newPage();
  }
  element.end();
  cursor.y += space.after;
}

/** Draws a list with a dash before each item. */
export function drawList(cursor: Cursor, items: readonly string[], letters: Letters): void {
  const { document } = cursor;
  const indent = 12;
  const height = lineHeight(letters);
  const list = structureElement(document, "L");
  document.addStructure(list);
  for (const item of items) {
    const lines = cursor.lines(item, letters, contentWidth - indent);
    cursor.demand(Math.min(lines.length, 3) * height);
    const entry = structureElement(document, "LI");
    list.add(entry);
    const dash = structureElement(document, "Lbl");
    entry.add(dash);
    dash.add(() => cursor.draw(["–"], letters, paper.left, cursor.y));
    dash.end();
    const body = structureElement(document, "LBody");
    entry.add(body);
    let rest = lines;
    while (rest.length > 0) {
      const fits = Math.max(1, Math.floor(cursor.room / height));
      const now = rest.slice(0, fits);
      body.add(() => cursor.draw(now, letters, paper.left + indent, cursor.y));
      cursor.y += now.length * height;
      rest = rest.slice(fits);
      if (rest.length > 0) cursor.newPage();
    }
    body.end();
    entry.end();
    cursor.y += 2;
  }
  list.end();
  cursor.y += 6;
}
