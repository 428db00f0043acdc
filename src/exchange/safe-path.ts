/** Names that stand for devices on some systems, with or without an ending. */
const deviceName = /^(con|prn|aux|nul|com[0-9]|lpt[0-9])(\.|$)/i;

/**
 * What makes a path dangerous or ambiguous inside a package, in words, or null. Accepted are relative paths of `/`-joined names
 * that mean the same on every system and stay inside the folder into which they are unpacked.
 */
export function pathProblem(path: string): string | null {
  const shown = JSON.stringify(path.slice(0, 200));
  if (path === "" || path.length > 1000) return `the path ${shown} is empty or longer than 1000 characters`;
  if (path.includes("\\")) return `the path ${shown} has a backslash; names are joined by /`;
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
  if (/[\u0000-\u001f\u007f]/.test(path)) return `the path ${shown} has a control character`;
  if (path.startsWith("/") || /^[a-z]:/i.test(path)) return `the path ${shown} is not relative`;
  for (const name of path.split("/")) {
    if (name === "" || name === "." || name === "..")
      return `the path ${shown} leaves its folder or has an empty part`;
    if (name.length > 200 || /[<>:"|?*%]/.test(name) || /[. ]$/.test(name) || deviceName.test(name))
      return `the path ${shown} has the name "${name.slice(0, 60)}", which not every system can hold`;
  }
  return null;
}
