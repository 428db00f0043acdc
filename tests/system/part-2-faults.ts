import type { PdfDictionary, PdfJson, PdfObject, PdfValue } from "./pdf-objects.ts";

/** Types of action that PDF/A-2 forbids, 6.5.1 (from memory), and scripts. */
const forbiddenActions =
  /^\/(Launch|Sound|Movie|ResetForm|ImportData|JavaScript|Hide|SetOCGState|Rendition|Trans|GoTo3DView)$/;

/**
 * Faults under PDF/A-2b that a validator of PDF/A-1b does not see, and those that matter most in any case, read from the objects of
 * a file. Clauses of ISO 19005-2:2011 are from memory.
 *
 * @param decoded objects with streams out of their compression
 * @param raw the same as stored
 */
export function part2Faults(decoded: PdfJson, raw: PdfJson): string[] {
  const objects = decoded.qpdf[1];
  const faults: string[] = [];
  const demand = (holds: boolean, fault: string): void => {
    if (!holds) faults.push(fault);
  };
  const at = (value: PdfValue | undefined): PdfObject =>
    typeof value === "string" && / R$/.test(value)
      ? (objects[`obj:${value}`] ?? {})
      : { value: value ?? null };
  const dictionary = (value: PdfValue | undefined): PdfDictionary => {
    const found = at(value);
    const it = found.stream?.dict ?? found.value;
    return typeof it === "object" && it !== null && !Array.isArray(it) ? it : {};
  };
  const list = (value: PdfValue | undefined): PdfValue[] => {
    const it = at(value).value;
    return Array.isArray(it) ? it : [];
  };
  const data = (value: PdfValue | undefined): Buffer => Buffer.from(at(value).stream?.data ?? "", "base64");

  const trailer = dictionary(objects.trailer?.value);
  const root = dictionary(trailer["/Root"]);
  demand(list(trailer["/ID"]).length === 2, "6.1.3: the trailer has no ID");
  demand(trailer["/Encrypt"] === undefined, "6.1.3: the file is encrypted");
  demand(root["/OpenAction"] === undefined && root["/AA"] === undefined, "6.5: something is done on opening");

  const intents = list(root["/OutputIntents"]).map(dictionary);
  const intent = intents.find((one) => one["/S"] === "/GTS_PDFA1");
  const profile = data(intent?.["/DestOutputProfile"]);
  demand(intent !== undefined, "6.2.3: no output intent for PDF/A");
  demand(
    profile.subarray(36, 40).toString("latin1") === "acsp",
    "6.2.3: the output intent has no ICC profile",
  );
  demand(profile.subarray(16, 20).toString("latin1") === "RGB ", "6.2.4.3: the profile is not for RGB");
  demand((profile[8] ?? 9) <= 4, "6.2.3: the profile is of a version above 4");

  const marks = dictionary(root["/MarkInfo"]);
  demand(marks["/Marked"] === true, "not marked as tagged");
  demand(list(dictionary(root["/StructTreeRoot"])["/K"]).length > 0, "no structure tree");
  demand(at(root["/Lang"]).value === "u:en-US", "no language");

  const xmp = data(root["/Metadata"]).toString("utf8");
  const tag = (name: string): string | undefined =>
    new RegExp(`<${name}>(?:\\s*<rdf:(?:Alt|Seq)>\\s*<rdf:li[^>]*>)?([^<]*)<`).exec(xmp)?.[1];
  demand(tag("pdfaid:part") === "2", "6.6.4: XMP does not claim part 2");
  demand(tag("pdfaid:conformance") === "B", "6.6.4: XMP does not claim conformance B");
  const told: Record<string, string | undefined> = {
    "/Title": tag("dc:title"),
    "/Author": tag("dc:creator"),
    "/Subject": tag("dc:description"),
    "/Creator": tag("xmp:CreatorTool"),
    "/Producer": tag("pdf:Producer"),
    "/CreationDate": tag("xmp:CreateDate"),
  };
  for (const [key, value] of Object.entries(dictionary(trailer["/Info"]))) {
    const text = String(at(value).value).replace(/^u:/, "");
    const date = /^D:(\d{4})(\d\d)(\d\d)(\d\d)(\d\d)(\d\d)Z$/.exec(text);
    const info = date === null ? text : `${date.slice(1, 4).join("-")}T${date.slice(4).join(":")}Z`;
    demand(told[key] === info, `6.6.3: ${key} is ${info} in Info and ${told[key]} in XMP`);
  }

  const names = (value: PdfValue, visit: (dict: PdfDictionary) => void): void => {
    if (Array.isArray(value)) for (const one of value) names(one, visit);
    else if (typeof value === "object" && value !== null) {
      visit(value);
      for (const one of Object.values(value)) names(one, visit);
    }
  };
  for (const [name, object] of Object.entries(objects))
    names(object.stream?.dict ?? object.value ?? null, (dict) => {
      const type = dict["/Type"];
      demand(!forbiddenActions.test(String(dict["/S"])), `6.5.1: ${name} holds the action ${dict["/S"]}`);
      demand(dict["/JS"] === undefined, `6.5.1: ${name} holds a script`);
      demand(dict["/JavaScript"] === undefined, `6.5.1: ${name} names scripts`);
      demand(dict["/EmbeddedFiles"] === undefined && dict["/EF"] === undefined, `6.8: ${name} embeds files`);
      demand(dict["/TR"] === undefined, `6.2.5: ${name} has a transfer function`);
      demand(
        [undefined, "/Default"].includes(dict["/TR2"] as string),
        `6.2.5: ${name} has a transfer function`,
      );
      demand(dict["/Subtype"] !== "/PS", `6.2.9: ${name} holds PostScript`);
      demand(
        dict["/Subtype"] !== "/Form",
        `${name} is drawn from outside a page, where this check does not look`,
      );
      if (type === "/Page") demand(dict["/AA"] === undefined, `6.5.2: ${name} does something by itself`);
      if (type === "/Font") faults.push(...fontFaults(name, dict));
    });
  for (const [name, object] of Object.entries(raw.qpdf[1])) {
    const dict = object.stream?.dict ?? {};
    const filters = [dict["/Filter"] ?? []].flat();
    demand(!filters.includes("/LZWDecode"), `6.1.7.2: ${name} is compressed with LZW`);
    demand(!filters.includes("/Crypt"), `6.1.7.2: ${name} is encrypted`);
    demand(dict["/F"] === undefined, `6.1.7.1: ${name} lies in another file`);
  }

  function fontFaults(name: string, font: PdfDictionary): string[] {
    if (font["/Subtype"] === "/CIDFontType2") {
      const file = data(dictionary(font["/FontDescriptor"])["/FontFile2"]);
      return [
        ...(file.length > 0 ? [] : [`6.2.11.4.1: ${name} is not embedded`]),
        ...(list(font["/W"]).length > 0 ? [] : [`6.2.11.5: ${name} has no widths`]),
        ...(font["/CIDToGIDMap"] === "/Identity" ? [] : [`6.2.11.3.2: ${name} has no map of glyphs`]),
      ];
    }
    const whole = font["/Subtype"] === "/Type0" && font["/Encoding"] === "/Identity-H";
    return whole ? [] : [`${name} is a font of a kind that this check does not know: ${font["/Subtype"]}`];
  }

  let letters = 0;
  for (const [name, object] of Object.entries(objects)) {
    const page = dictionary(object.value);
    if (page["/Type"] !== "/Page") continue;
    const fonts = dictionary(dictionary(page["/Resources"])["/Font"]);
    const content = [page["/Contents"] ?? null].flat().map((one) => data(one).toString("latin1"));
    let widths: PdfValue[] = [];
    // Names of fonts and hexadecimal strings; a dictionary's brackets are not a string.
    for (const [, font, hex] of content.join("\n").matchAll(/\/(\S+) \S+ Tf|(?<!<)<([0-9A-Fa-f]+)>(?!>)/g)) {
      if (font !== undefined) {
        const descendant = list(dictionary(fonts[`/${font}`])["/DescendantFonts"])[0];
        const [first, all] = list(dictionary(descendant)["/W"]);
        widths = first === 0 ? list(all) : [];
        continue;
      }
      for (const code of hex?.match(/.{4}/g) ?? []) {
        letters += 1;
        demand(code !== "0000", `6.2.11.8: ${name} refers to the glyph .notdef`);
        demand(Number.parseInt(code, 16) < widths.length, `6.2.11.5: ${name} draws a glyph without a width`);
      }
    }
  }
  demand(letters > 0, "no letter was found on any page, so that none was checked");
  return [...new Set(faults)];
}
