/** One element of a figure as a test sees it. */
export interface DrawnElement {
  name: string;
  attributes: Record<string, string>;
  /** Text directly inside, still escaped. */
  text: string;
}

/**
 * Elements of a figure in order, read by the strict part of XML that figures use.
 *
 * @throws Error where a tag is not closed, closes another, or anything else stands between tags that XML would refuse
 */
export function readSvg(svg: string): DrawnElement[] {
  const found: DrawnElement[] = [];
  const open: DrawnElement[] = [];
  let rest = svg;
  while (rest.trim() !== "") {
    const text = /^[^<]+/.exec(rest)?.[0];
    if (text !== undefined) {
      if (/&(?!amp;|lt;|gt;|quot;|#39;)/.test(text)) throw new Error(`unescaped ampersand in ${text}`);
      const parent = open.at(-1);
      if (parent !== undefined) parent.text += text;
      rest = rest.slice(text.length);
      continue;
    }
    const closing = /^<\/([a-z]+)>/.exec(rest);
    if (closing !== null) {
      const last = open.pop();
      if (last?.name !== closing[1]) throw new Error(`</${closing[1]}> closes ${last?.name}`);
      rest = rest.slice(closing[0].length);
      continue;
    }
    const opening = /^<([a-z]+)((?: [a-zA-Z0-9-]+="[^"<]*")*)(\/?)>/.exec(rest);
    if (opening === null) throw new Error(`no tag: ${rest.slice(0, 60)}`);
    const attributes = Object.fromEntries(
      [...(opening[2] ?? "").matchAll(/ ([a-zA-Z0-9-]+)="([^"]*)"/g)].map(([, key, value]) => [key, value]),
    ) as Record<string, string>;
    const element = { name: opening[1] ?? "", attributes, text: "" };
    found.push(element);
    if (opening[3] === "") open.push(element);
    rest = rest.slice(opening[0].length);
  }
  if (open.length > 0) throw new Error(`${open.map(({ name }) => name).join(", ")} not closed`);
  return found;
}

/** A number of an element. */
export function numberOf(element: DrawnElement | undefined, key: string): number {
  return Number(element?.attributes[key] ?? Number.NaN);
}

/** Text as it was before it was escaped. */
export function unescaped(text: string): string {
  const letters = { "&lt;": "<", "&gt;": ">", "&quot;": '"', "&#39;": "'", "&amp;": "&" } as const;
  return text.replace(/&(?:lt|gt|quot|#39|amp);/g, (entity) => letters[entity as keyof typeof letters]);
}
