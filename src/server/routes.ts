import type { FastifyPluginAsync } from "fastify";
import type { BenchDesk } from "../lab/bench-desk.ts";
import type { Lab } from "../lab/lab.ts";
import type { Seeding } from "../lab/seeding.ts";

/** What the server serves: one lab, one bench, and the making of the demo lab while it lasts. */
export interface ServerDependencies {
  lab: Lab;
  desk: BenchDesk;
  seeding: Seeding;
}

/** A plugin of one resource. */
export type Routes = (dependencies: ServerDependencies) => FastifyPluginAsync;
