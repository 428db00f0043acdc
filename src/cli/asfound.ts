#!/usr/bin/env node
import { Command } from "commander";
import { programVersion } from "../lab/project-folder.ts";

type Add = (program: Command) => void;

/** Every command, each in its own file, loaded only when it is the one to run or help is asked for. */
const commands: Readonly<Record<string, () => Promise<Add>>> = {
  start: async () => (await import("./start.ts")).addStart,
  shoot: async () => (await import("./shoot.ts")).addShoot,
  programme: async () => (await import("./programme.ts")).addProgramme,
  next: async () => (await import("./next.ts")).addNext,
  handle: async () => (await import("./handle.ts")).addHandle,
  matrix: async () => (await import("./matrix.ts")).addMatrix,
  jobs: async () => (await import("./jobs.ts")).addJobs,
  specimens: async () => (await import("./specimens.ts")).addSpecimens,
  custody: async () => (await import("./custody.ts")).addCustody,
  photographs: async () => (await import("./photographs.ts")).addPhotographs,
  gate: async () => (await import("./gate.ts")).addGate,
  records: async () => (await import("./records.ts")).addRecords,
  amend: async () => (await import("./amend.ts")).addAmend,
  review: async () => (await import("./review.ts")).addReview,
  read: async () => (await import("./read.ts")).addRead,
  judge: async () => (await import("./judge.ts")).addJudge,
  instantaneous: async () => (await import("./instantaneous.ts")).addInstantaneous,
  limits: async () => (await import("./limits.ts")).addLimits,
  confirm: async () => (await import("./confirm.ts")).addConfirm,
  bands: async () => (await import("./bands.ts")).addBands,
  calibrations: async () => (await import("./calibrations.ts")).addCalibrations,
  people: async () => (await import("./people.ts")).addPeople,
  policy: async () => (await import("./policy.ts")).addPolicy,
  fit: async () => (await import("./fit.ts")).addFit,
  rates: async () => (await import("./rates.ts")).addRates,
  "trip-times": async () => (await import("./trip-times.ts")).addTripTimes,
  studies: async () => (await import("./studies.ts")).addStudies,
  pool: async () => (await import("./pool.ts")).addPool,
  plan: async () => (await import("./plan.ts")).addPlan,
  place: async () => (await import("./place.ts")).addPlace,
  panel: async () => (await import("./place.ts")).addPanel,
  shares: async () => (await import("./shares.ts")).addShares,
  compute: async () => (await import("./compute.ts")).addCompute,
  ledger: async () => (await import("./ledger.ts")).addLedger,
  exhibit: async () => (await import("./exhibit.ts")).addExhibit,
  package: async () => (await import("./package.ts")).addPackage,
  letter: async () => (await import("./letter.ts")).addLetter,
  labels: async () => (await import("./labels.ts")).addLabels,
  timestamp: async () => (await import("./timestamp.ts")).addTimestamp,
  verify: async () => (await import("./verify.ts")).addVerify,
  rederive: async () => (await import("./rederive.ts")).addRederive,
  rebuild: async () => (await import("./rebuild.ts")).addRebuild,
  ports: async () => (await import("./ports.ts")).addPorts,
  emulate: async () => (await import("./emulate.ts")).addEmulate,
};

const program = new Command("asfound")
  .description("A bench for testing circuit breakers pulled from service, and the analysis behind it.")
  .version(programVersion())
  .exitOverride((error) => process.exit(error.exitCode === 0 ? 0 : 2));

const named = commands[process.argv[2] ?? ""];
for (const load of named === undefined ? Object.values(commands) : [named]) (await load())(program);

await program.parseAsync();
