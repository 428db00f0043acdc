import type { Command } from "commander";
import type { PlanView } from "../contract/programme.ts";
import { programmeFor } from "../core/limits/applicable-rows.ts";
import { programmes } from "../core/specimen/programme.ts";
import type { Specimen } from "../core/specimen/specimen.ts";
import { BenchDesk } from "../lab/bench-desk.ts";
import { cautions } from "../lab/cautions.ts";
import { InputError } from "../lab/input-error.ts";
import type { Lab } from "../lab/lab.ts";
import { defaultLimitSet } from "../lab/limit-library.ts";
import { lockProgramme, programmeLock } from "../lab/lock-programme.ts";
import { moveHandle } from "../lab/move-handle.ts";
import { nextSteps } from "../lab/next-steps.ts";
import { openLab } from "../lab/open-lab.ts";
import { planView } from "../lab/programme-view.ts";
import { readJsonFile } from "../lab/read-json-file.ts";
import { checkSpecimenFits, findOrReceiveSpecimen, parseSpecimen } from "../lab/receive-specimen.ts";
import { choiceOption } from "./option-values.ts";
import { note, printResult, runCommand } from "./output.ts";
import { addRuleOptions, decisionRuleOf, type RuleOptions } from "./rule-options.ts";
import { runWithProgress, shotDocument } from "./run-with-progress.ts";
import { readingWords } from "./words.ts";

type Options = {
  link?: string;
  data: string;
  specimen: string;
  programme?: string;
  set?: string;
  why?: string;
  lockOnly: boolean;
  json: boolean;
} & RuleOptions;

const names = programmes.map((one) => one.name);

/** `asfound programme`: locks a specimen's programme and carries it out from where it stands. */
export function addProgramme(program: Command): void {
  const command = program
    .command("programme")
    .description(
      "carry out the programme of a specimen from where it stands; locks it before the first current",
    )
    .option(
      "--link <address>",
      "serial:PATH[?baud=N] | tcp:HOST:PORT | emulated[?breaker=NAME&speed=N&seed=N]",
    )
    .requiredOption("--data <dir>", "data directory")
    .requiredOption("--specimen <file>", "JSON file with at least label, ratedAmps, poles and volts")
    .option("--programme <name>", `${names.map((name) => `"${name}"`).join(" | ")}`, choiceOption(names))
    .option("--set <name>", "limit set")
    .option("--why <reason>", "reason of an amendment, or of a lock after first current")
    .option("--lock-only", "lock the programme and drive no current", false)
    .option("--json", "print one JSON document", false);
  addRuleOptions(command).action((options: Options) => {
    const ruleGiven = command.getOptionValueSource("rule") === "cli";
    return runCommand(options.json, async () => {
      const { link } = options;
      if (link === undefined && !options.lockOnly) {
        throw new InputError("--link: missing; needed unless --lock-only is given");
      }
      const details = parseSpecimen(readJsonFile(options.specimen), options.specimen);
      const lab = openLab(options.data);
      const desk = link === undefined || options.lockOnly ? null : new BenchDesk(lab, link);
      try {
        checkSpecimenFits(lab, details);
        const asked = wanted(lab, details, options, ruleGiven);
        if (desk !== null && link !== undefined) {
          await desk.connect(link);
          // What can be refused is refused before the first current, for every test point.
          for (const { row, loading } of programmeFor(lab.limits.get(asked.limitSet), details)) {
            const { limitSet, rule } = asked;
            desk.check(details, { limitSet, multiple: row.multiple, loading, rule });
          }
          for (const caution of cautions) note(`Caution: ${caution}`);
        }
        const specimen = findOrReceiveSpecimen(lab, details);
        lockProgramme(lab, specimen, asked);
        const shots = desk === null ? [] : await carryOut(lab, desk, specimen);
        const plan = planView(lab, specimen);
        printResult(options.json, { specimen, planned: plan.steps.length, shots, plan }, () =>
          planWords(plan),
        );
      } finally {
        await desk?.close();
        lab.store.close();
      }
    });
  });
}

/** What is to be locked: what the options name, else what is locked already, else the whole default set by simple acceptance. */
function wanted(lab: Lab, details: Specimen, options: Options, ruleGiven: boolean) {
  const known = lab.store.records.specimenByLabel(details.label);
  const lock = known === null ? null : programmeLock(lab, known.specimen);
  return {
    programme: options.programme ?? lock?.programme ?? "limit set",
    limitSet: options.set ?? lock?.limitSet ?? defaultLimitSet,
    rule: ruleGiven || lock === null ? decisionRuleOf(options) : lock.rule,
    ...(options.why === undefined ? {} : { why: options.why }),
  };
}

/** Takes one allowed step after another, until the end or a step that must wait or needs a hand. */
async function carryOut(lab: Lab, desk: BenchDesk, specimen: string) {
  const shots = [];
  const told = new Set<string>();
  for (;;) {
    const next = nextSteps(lab, desk.rig()).specimens.find((one) => one.specimen === specimen);
    if (next === undefined) return shots;
    const { step } = next;
    const words = `${next.done + 1} of ${next.planned}: ${step.words}`;
    if (!next.allowed) {
      note(`${words}\n  ${next.words} Run the command again then; nothing is lost.`);
      return shots;
    }
    if (step.kind === "exercise" && step.times !== null) {
      // Only the emulated rig can work a handle; anything else needs a hand.
      if (desk.rig().speed === null) {
        note(
          `${words}\n  Do so, record it with "asfound handle --specimen ${specimen} --operations ${step.times}" or on the page, then run this again.`,
        );
        return shots;
      }
      moveHandle(lab, specimen, step.times, "worked by the emulated rig, as the programme asks");
      desk.handleMoved(specimen, step.times);
      note(words);
      continue;
    }
    if (step.multiple === null) return shots;
    const finished = await runWithProgress(
      desk,
      {
        specimen,
        limitSet: next.limitSet,
        multiple: step.multiple,
        loading: step.loading ?? undefined,
      },
      words,
    );
    const { closed } = finished;
    shots.push(shotDocument(finished));
    note(`${words}\n${readingWords(closed.reading, closed.verdict)}`);
    for (const suspicion of planView(lab, specimen).suspicions) {
      if (!told.has(suspicion.words)) note(`  ${suspicion.words}`);
      told.add(suspicion.words);
    }
    const decided = closed.verdict.result === "pass" || closed.verdict.result === "fail";
    if (!decided) {
      note("  The shot decided nothing: the step stays open.");
      return shots;
    }
  }
}

const stepMarks = { done: "✓", next: "→", later: "·", skipped: "–" } as const;

function planWords(plan: PlanView): string {
  const { lock } = plan;
  return [
    lock === null
      ? `${plan.label}: no programme locked`
      : `${plan.label}: "${lock.programme}" of ${lock.limitSet}, locked by entry ${lock.sequence}${lock.amends === null ? "" : `, amending entry ${lock.amends}`}${lock.beforeFirstCurrent ? "" : ", after first current"}${lock.why === "" ? "" : `: ${lock.why}`}`,
    ...plan.steps.map(
      (step) => `  ${stepMarks[step.state]} ${step.words}${step.shot === null ? "" : ` (${step.shot})`}`,
    ),
    ...plan.suspicions.map((one) => `  ${one.words}`),
    plan.finished ? "Finished." : `${plan.done} of ${plan.steps.length} steps done.`,
  ].join("\n");
}
