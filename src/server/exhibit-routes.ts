import { type Static, Type } from "@fastify/type-provider-typebox";
import { ratesQuery } from "../contract/rates.ts";
import type { Subject } from "../lab/exhibit-data.ts";
import { exportLedger } from "../lab/export-ledger.ts";
import { InputError } from "../lab/input-error.ts";
import { listed } from "../lab/rates-question.ts";
import { RigError } from "../lab/rig-error.ts";
import { acceptTimeStamp, requestTimeStamp, stampViews } from "../lab/time-stamps.ts";
import { workshopHere } from "../lab/workshop.ts";
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
const letterQuery = Type.Object(
  { specimen: text(60), job: text(200), to: text(120) },
  { additionalProperties: false },
);
const labelQuery = Type.Object(
  {
    specimen: Type.Optional(
      Type.String({
        minLength: 1,
        maxLength: 20_000,
        description: "identifiers or labels, separated by commas; all specimens where neither is given",
      }),
    ),
    job: text(200),
    skip: Type.Optional(Type.String({ pattern: "^\\d{1,2}$" })),
  },
  { additionalProperties: false },
);
const ratesExhibitQuery = Type.Object(
  {
    ...ratesQuery.properties,
    label: text(80),
    case: text(120),
    bates: text(20),
    mixedCriteria: Type.Optional(Type.Union([Type.Literal("true"), Type.Literal("false")])),
  },
  { additionalProperties: false },
);
const stampBody = Type.Object(
  { response: Type.String({ maxLength: 140_000, description: "the authority's answer, DER in base64" }) },
  { additionalProperties: false },
);
const ledgerQuery = Type.Object(
  {
    since: Type.Optional(Type.String({ pattern: "^\\d{1,15}$" })),
    limit: Type.Optional(Type.String({ pattern: "^[1-9]\\d{0,5}$", description: "at most so many entries" })),
  },
  { additionalProperties: false },
);

/** The ledger as others get it, and exhibits and packages as files. */
export const exhibitRoutes: Routes =
  ({ lab, desk, workshop = workshopHere(lab) }) =>
  async (api) => {
    /** Where making a document stops all else for seconds, a rig under current would miss its heartbeat. */
    const demandIdleRig = (): void => {
      if (workshop.blocks && desk.current() !== null)
        throw new RigError("A shot is under way: exhibits and packages are made when it has ended");
    };
    api.get<{ Querystring: Static<typeof ledgerQuery> }>(
      "/ledger",
      {
        schema: { summary: "Entries after a sequence number, as they are hashed", querystring: ledgerQuery },
      },
      async (request) =>
        exportLedger(
          lab,
          Number(request.query.since ?? 0),
          request.query.limit === undefined ? undefined : Number(request.query.limit),
        ),
    );
    api.get<{ Querystring: Static<typeof exhibitQuery> }>(
      "/exhibit.pdf",
      { schema: { summary: "Exhibit of one specimen or one job", querystring: exhibitQuery } },
      async (request, reply) => {
        demandIdleRig();
        const { specimen: _specimen, job: _job, case: caseText, ...rest } = request.query;
        const pdf = await workshop.run({
          make: "exhibit",
          subject: subjectOf(request.query),
          options: { ...rest, ...(caseText === undefined ? {} : { caseText }) },
        });
        return reply.type("application/pdf").send(Buffer.from(pdf));
      },
    );
    api.get<{ Querystring: Static<typeof ratesExhibitQuery> }>(
      "/exhibit-rates.pdf",
      { schema: { summary: "Exhibit of failure rates", querystring: ratesExhibitQuery } },
      async (request, reply) => {
        demandIdleRig();
        const { label, case: caseText, bates, mixedCriteria, ...query } = request.query;
        const pdf = await workshop.run({
          make: "rates exhibit",
          query,
          options: {
            mixedCriteria: mixedCriteria === "true",
            ...(label === undefined ? {} : { label }),
            ...(caseText === undefined ? {} : { caseText }),
            ...(bates === undefined ? {} : { bates }),
          },
        });
        return reply.type("application/pdf").send(Buffer.from(pdf));
      },
    );
    api.get<{ Querystring: Static<typeof letterQuery> }>(
      "/letter.pdf",
      { schema: { summary: "Letter of one page to an owner", querystring: letterQuery } },
      async (request, reply) => {
        demandIdleRig();
        const subject = subjectOf(request.query);
        const pdf = await workshop.run({ make: "letter", subject, to: request.query.to ?? null });
        return reply.type("application/pdf").send(Buffer.from(pdf));
      },
    );
    api.get<{ Querystring: Static<typeof labelQuery> }>(
      "/labels.pdf",
      { schema: { summary: "Sheets of labels with codes", querystring: labelQuery } },
      async (request, reply) => {
        demandIdleRig();
        const { specimen, job, skip } = request.query;
        if (specimen !== undefined && job !== undefined)
          throw new InputError("accepted is one of specimen and job, or neither for all");
        const which =
          specimen !== undefined ? { specimens: listed(specimen) } : job !== undefined ? { job } : "all";
        const pdf = await workshop.run({ make: "labels", which, skip: Number(skip ?? 0) });
        return reply.type("application/pdf").send(Buffer.from(pdf));
      },
    );
    api.get("/timestamps", { schema: { summary: "Time stamps of authorities over the ledger" } }, async () =>
      stampViews(lab),
    );
    api.get(
      "/timestamp-request.tsq",
      { schema: { summary: "Request for a time stamp over the ledger's head (RFC 3161)" } },
      async (_request, reply) => {
        const { request, entries } = requestTimeStamp(lab);
        return reply
          .type("application/timestamp-query")
          .header("content-disposition", `attachment; filename="ledger-entry-${entries}.tsq"`)
          .send(Buffer.from(request));
      },
    );
    api.post<{ Body: Static<typeof stampBody> }>(
      "/timestamps",
      { config: { needs: "operator" }, schema: { summary: "Store an authority's answer", body: stampBody } },
      async (request, reply) =>
        reply
          .code(201)
          .send(acceptTimeStamp(request.lab, Buffer.from(request.body.response, "base64"), "response")),
    );
    api.get<{ Querystring: Static<typeof packageQuery> }>(
      "/package.zip",
      { schema: { summary: "Package of one specimen or one job, as zip", querystring: packageQuery } },
      async (request, reply) => {
        demandIdleRig();
        const { label, case: caseText, publish } = request.query;
        const zip = await workshop.run({
          make: "package",
          subject: subjectOf(request.query),
          options: {
            publish: publish === "true",
            ...(label === undefined ? {} : { label }),
            ...(caseText === undefined ? {} : { caseText }),
          },
        });
        return reply.type("application/zip").send(Buffer.from(zip));
      },
    );
  };

function subjectOf({ specimen, job }: { specimen?: string; job?: string }): Subject {
  if (specimen !== undefined && job === undefined) return { specimen };
  if (job !== undefined && specimen === undefined) return { job };
  throw new InputError("accepted is one of specimen and job");
}
