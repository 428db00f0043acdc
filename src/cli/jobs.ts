import type { Command } from "commander";
import type { JobView } from "../contract/job-schema.ts";
import { jobView, jobViews, openJob } from "../lab/jobs.ts";
import { readJsonFile } from "../lab/read-json-file.ts";
import { printResult, runCommand, textTable } from "./output.ts";
import { withPerson } from "./subject-options.ts";
import { readingFrom, writingTo } from "./with-lab.ts";

type Options = { data: string; json: boolean };

/** `asfound jobs open | list | show`: jobs, and the specimens that name them. */
export function addJobs(program: Command): void {
  const command = program.command("jobs").description("jobs: where specimens were removed, for whom, why");
  command
    .command("open")
    .description("open a job from a JSON file")
    .requiredOption("--data <dir>", "data directory")
    .requiredOption(
      "--file <file>",
      "JSON: job, site, on, and clientReference, removedBy, authority, circumstances, panels where known",
    )
    .requiredOption("--by <name>", "who makes this entry")
    .option("--json", "print one JSON document", false)
    .action(({ data, file, by, json }: Options & { file: string; by: string }) =>
      runCommand(json, () => {
        const input = withPerson(readJsonFile(file), by, file);
        const view = writingTo(data, (lab) => openJob(lab, input, file));
        printResult(json, view, () => jobWords(view).join("\n"));
      }),
    );
  command
    .command("list")
    .description("every job that was opened or that a specimen names")
    .requiredOption("--data <dir>", "data directory")
    .option("--json", "print one JSON document", false)
    .action(({ data, json }: Options) =>
      runCommand(json, () => {
        const jobs = readingFrom(data, jobViews);
        printResult(json, { jobs }, () =>
          textTable([
            ["job", "site", "removed on", "panels", "specimens", "opened by"],
            ...jobs.map(({ job, opened, specimens }) => [
              job,
              opened?.details.site ?? "never opened",
              opened?.details.on ?? "",
              opened?.details.panels.join(", ") ?? "",
              String(specimens.length),
              opened?.by ?? "",
            ]),
          ]),
        );
      }),
    );
  command
    .command("show")
    .description("one job with its specimens")
    .argument("<job>", "name of the job")
    .requiredOption("--data <dir>", "data directory")
    .option("--json", "print one JSON document", false)
    .action((job: string, { data, json }: Options) =>
      runCommand(json, () => {
        const view = readingFrom(data, (lab) => jobView(lab, job));
        printResult(json, view, () => jobWords(view).join("\n"));
      }),
    );
}

function jobWords({ job, opened, specimens, remarks }: JobView): string[] {
  const told = (what: string, text: string | null) =>
    text === null || text === "" ? [] : [`  ${what}: ${text}`];
  const details = opened?.details;
  return [
    opened === null ? `Job "${job}"` : `Job "${job}", opened by ${opened.by} at ${opened.at}`,
    ...(details === undefined
      ? []
      : [
          ...told("Site", details.site),
          ...told("Removed on", details.on),
          ...told("Removed by", details.removedBy),
          ...told("Client's reference", details.clientReference),
          ...told("Authority", details.authority),
          ...told("Circumstances", details.circumstances),
          ...told("Panels", details.panels.join(", ")),
          ...(opened?.amendments ? [`  Amended: see asfound amend show --entry ${opened.sequence}`] : []),
        ]),
    ...specimens.map(
      (one) =>
        `  ${one.id}  ${one.label}${one.panel === null ? "" : `, panel ${one.panel}`}${one.circuit === null ? "" : `, circuit ${one.circuit}`}, ${one.shots} tests`,
    ),
    ...remarks.map((remark) => `  ! ${remark}`),
  ];
}
