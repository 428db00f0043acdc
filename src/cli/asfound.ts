#!/usr/bin/env node
import { Command } from "commander";
import { programVersion } from "../lab/project-folder.ts";
import { addCompute } from "./compute.ts";
import { addEmulate } from "./emulate.ts";
import { addFit } from "./fit.ts";
import { addJudge } from "./judge.ts";
import { addLimits } from "./limits.ts";
import { addPorts } from "./ports.ts";
import { addProgramme } from "./programme.ts";
import { addRead } from "./read.ts";
import { addRebuild } from "./rebuild.ts";
import { addRecords } from "./records.ts";
import { addRederive } from "./rederive.ts";
import { addShoot } from "./shoot.ts";
import { addSpecimens } from "./specimens.ts";
import { addStart } from "./start.ts";
import { addVerify } from "./verify.ts";

const program = new Command("asfound")
  .description("A bench for testing circuit breakers pulled from service, and the analysis behind it.")
  .version(programVersion())
  .exitOverride((error) => process.exit(error.exitCode === 0 ? 0 : 2));

const add = [
  addStart,
  addShoot,
  addProgramme,
  addSpecimens,
  addRecords,
  addRead,
  addJudge,
  addFit,
  addCompute,
  addLimits,
  addVerify,
  addRederive,
  addRebuild,
  addPorts,
  addEmulate,
];
for (const one of add) one(program);

await program.parseAsync();
