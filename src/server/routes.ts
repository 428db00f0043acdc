import type { FastifyPluginAsync } from "fastify";
import type { BenchDesk } from "../lab/bench-desk.ts";
import type { Lab } from "../lab/lab.ts";
import type { Seeding } from "../lab/seeding.ts";
import type { Workshop } from "../lab/workshop.ts";

/** What the server serves: one lab, one bench, and the making of the demo lab while it lasts. */
export interface ServerDependencies {
  lab: Lab;
  desk: BenchDesk;
  seeding: Seeding;
  /** Where documents are made and the ledger is checked; left out, in the server's own thread. */
  workshop?: Workshop;
  /** Set where the server is open to a network; left out, it answers loopback only. */
  network?: NetworkAccess;
}

/** How a server shows a network who it is: PEM texts, and the names and addresses under which requests may reach it. */
export interface NetworkAccess {
  certificate: string;
  key: string;
  names: readonly string[];
}

/** A plugin of one resource. */
export type Routes = (dependencies: ServerDependencies) => FastifyPluginAsync;
