/**
 * Advance width of a character, as a part of the font's size, from the tables of a TrueType file.
 *
 * Source: ISO/IEC 14496-22 (Open Font Format), tables cmap (format 4), head, hhea and hmtx.
 */
export function readTrueTypeWidths(file: Buffer): (code: number) => number {
  const tables = new Map<string, number>();
  for (let i = 0; i < file.readUInt16BE(4); i++)
    tables.set(file.toString("latin1", 12 + i * 16, 16 + i * 16), file.readUInt32BE(20 + i * 16));
  const table = (name: string) => {
    const at = tables.get(name);
    if (at === undefined) throw new Error(`the font has no table ${name}`);
    return at;
  };
  const unitsPerEm = file.readUInt16BE(table("head") + 18);
  const longMetrics = file.readUInt16BE(table("hhea") + 34);
  const glyphOf = characterMap(file, table("cmap"));
  return (code) => {
    const glyph = Math.min(glyphOf(code), longMetrics - 1);
    return file.readUInt16BE(table("hmtx") + glyph * 4) / unitsPerEm;
  };
}

function characterMap(file: Buffer, cmap: number): (code: number) => number {
  const subtables = Array.from(
    { length: file.readUInt16BE(cmap + 2) },
    (_, i) => cmap + file.readUInt32BE(cmap + 8 + i * 8),
  );
  const at = subtables.find((start) => file.readUInt16BE(start) === 4);
  if (at === undefined) throw new Error("the font has no character map of format 4");
  const doubled = file.readUInt16BE(at + 6);
  return (code) => {
    for (let i = 0; i < doubled; i += 2) {
      const end = file.readUInt16BE(at + 14 + i);
      if (code > end) continue;
      const start = file.readUInt16BE(at + 16 + doubled + i);
      if (code < start) return 0;
      const delta = file.readUInt16BE(at + 16 + 2 * doubled + i);
      const rangeAt = at + 16 + 3 * doubled + i;
      const range = file.readUInt16BE(rangeAt);
      const glyph = range === 0 ? code : file.readUInt16BE(rangeAt + range + 2 * (code - start));
      return glyph === 0 ? 0 : (glyph + delta) % 65_536;
    }
    return 0;
  };
}
