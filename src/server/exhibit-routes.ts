import { type Static, Type } from "@fastify/type-provider-typebox";
import { zipFiles } from "../exchange/zip-files.ts";
import type { Subject } from "../lab/exhibit-data.ts";
import { exportLedger } from "../lab/export-ledger.ts";
import { InputError } from "../lab/input-error.ts";
import { makeExhibit } from "../lab/make-exhibit.ts";
import { makePackage } from "../lab/make-package.ts";
import { RigError } from "../lab/rig-error.ts";
import type { Routes } from "./routes.ts";

const text = (maxLength: number) => Type.Optional(Type.String({ minLength: 1, maxLength }));
const subjectQuery = {
  specimen: text(60),
  job: text(200),
  label: text(80),
  case: text(120),
};
const exhibitQuery = Type.Object(
  {
    ...subjectQuery,
    class: Type.Optional(
      Type.Union(
        (["original", "duplicate", "summary", "illustrative"] as const).map((one) => Type.Literal(one)),
      ),
    ),
    bates: text(20),
  },
  { additionalProperties: false },
);
const packageQuery = Type.Object(
  { ...subjectQuery, publish: Type.Optional(Type.Union([Type.Literal("true"), Type.Literal("false")])) },
  { additionalProperties: false },
);
const ledgerQuery = Type.Object(
  { since: Type.Optional(Type.String({ pattern: "^\\d{1,15}$" })) },
  { additionalProperties: false },
);

/** The ledger as others get it, and exhibits and packages as files. */
export const exhibitRoutes: Routes =
  ({ lab, desk }) =>
  async (api) => {
    /** Making a document takes seconds in which nothing else runs here, and a rig under current needs its heartbeat. */
    const demandIdleRig = (): void => {
      if (desk.current() !== null)
        throw new RigError("A shot is under way: exhibits and packages are made when it has ended");
    };
    api.get<{ Querystring: Static<typeof ledgerQuery> }>(
      "/ledger",
      {
        schema: { summary: "Entries after a sequence number, as they are hashed", querystring: ledgerQuery },
      },
      async (request) => exportLedger(lab, Number(request.query.since ?? 0)),
    );
    api.get<{ Querystring: Static<typeof exhibitQuery> }>(
      "/exhibit.pdf",
      { schema: { summary: "Exhibit of one specimen or one job", querystring: exhibitQuery } },
      async (request, reply) => {
        demandIdleRig();
        const { specimen: _specimen, job: _job, case: caseText, ...rest } = request.query;
        const exhibit = await makeExhibit(lab, subjectOf(request.query), {
          ...rest,
          ...(caseText === undefined ? {} : { caseText }),
        });
        return reply.type("application/pdf").send(Buffer.from(exhibit.pdf));
      },
    );
    api.get<{ Querystring: Static<typeof packageQuery> }>(
      "/package.zip",
      { schema: { summary: "Package of one specimen or one job, as zip", querystring: packageQuery } },
      async (request, reply) => {
        demandIdleRig();
        const { label, case: caseText, publish } = request.query;
        const files = await makePackage(lab, subjectOf(request.query), {
          publish: publish === "true",
          ...(label === undefined ? {} : { label }),
          ...(caseText === undefined ? {} : { caseText }),
        });
        return reply.type("application/zip").send(Buffer.from(zipFiles(files)));
      },
    );
  };

function subjectOf({ specimen, job }: { specimen?: string; job?: string }): Subject {
  if (specimen !== undefined && job === undefined) return { specimen };
  if (job !== undefined && specimen === undefined) return { job };
  throw new InputError("accepted is one of specimen and job");
}
