import { spawnSync } from "node:child_process";
import { toolIsThere } from "./asfound.ts";

const jars = [
  "preflight.jar",
  "pdfbox2.jar",
  "fontbox2.jar",
  "xmpbox.jar",
  "commons-logging.jar",
  "javax.activation.jar",
  "jaxb-api.jar",
];
const folder = "/usr/share/java";

/** What an independent validator found: its code and its words. */
export interface Finding {
  code: string;
  details: string;
}

/** Whether the validator is there: a Java and the libraries. */
export const preflightIsThere = (): boolean => ["java", ...jars].every(toolIsThere);

/**
 * Findings of Apache PDFBox Preflight on a file. It validates PDF/A-1b, the stricter ancestor of PDF/A-2b.
 *
 * @throws Error where it did not come to the end of its check
 */
export function preflight(file: string): Finding[] {
  const path = jars.map((jar) => `${folder}/${jar}`).join(":");
  const { stdout, stderr } = spawnSync(
    "java",
    ["-cp", path, "org.apache.pdfbox.preflight.Validator_A1b", "xml", file],
    { encoding: "utf8", maxBuffer: 1e8 },
  );
  if (!stdout?.includes('<isValid type="PDF/A1-b">') || stdout.includes("<exceptionThrown>"))
    throw new Error(`no verdict on ${file}: ${stdout}${stderr}`);
  return [...stdout.matchAll(/<code>(.*?)<\/code>\s*<details>(.*?)<\/details>/gs)].map(
    ([, code = "", details = ""]) => ({ code, details }),
  );
}

/** Findings that only PDF/A-1b makes, each with what permits it in ISO 19005-2:2011 (clauses from memory). */
export const permittedInPart2: readonly (Finding & { clause: string })[] = [
  {
    code: "7.11.2",
    details: "Error on MetaData, part must be 1",
    clause: "6.6.4: the part that a file of this standard claims is 2",
  },
  {
    code: "3.1.11",
    details: "The CIDSet entry is missing for the Composite Subset",
    clause: "6.2.11.4.2: a CIDSet may be left out; where there is one it must name every glyph",
  },
];

/** Findings that hold for PDF/A-2b too. */
export const faultsOf = (findings: readonly Finding[]): Finding[] =>
  findings.filter(
    ({ code, details }) =>
      !permittedInPart2.some((one) => one.code === code && details.endsWith(one.details)),
  );
