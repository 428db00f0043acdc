import type { FastifyError, FastifyReply, FastifyRequest } from "fastify";
import type { Problem } from "../contract/http.ts";
import { InputError } from "../lab/input-error.ts";
import { NotFoundError } from "../lab/not-found-error.ts";
import { RigError } from "../lab/rig-error.ts";

const titles: Readonly<Record<number, string>> = {
  400: "The request holds something that is not accepted",
  401: "Not signed in",
  403: "Not allowed",
  404: "Not found",
  409: "Not possible now",
  429: "Too often",
  500: "The program failed",
};

/** Sends an RFC 9457 problem document. */
export function sendProblem(
  reply: FastifyReply,
  status: number,
  detail: string,
  fields?: Problem["fields"],
): FastifyReply {
  const problem: Problem = { type: "about:blank", title: titles[status] ?? "Error", status, detail };
  if (fields !== undefined && fields.length > 0) problem.fields = fields;
  return reply.code(status).type("application/problem+json").send(JSON.stringify(problem));
}

/** Turns whatever a handler threw into a problem document. */
export function handleError(
  error: FastifyError,
  _request: FastifyRequest,
  reply: FastifyReply,
): FastifyReply {
  if (error.validation !== undefined) {
    const fields = error.validation.map((one) => ({
      field:
        one.instancePath.replace(/^\//, "").replaceAll("/", ".") ||
        String(one.params.missingProperty ?? one.params.additionalProperty ?? ""),
      problem: one.message ?? "is not accepted",
    }));
    return sendProblem(
      reply,
      400,
      `${error.validationContext ?? "input"}: ${fields.map((f) => `${f.field} ${f.problem}`).join("; ")}`,
      fields,
    );
  }
  if (error instanceof InputError) return sendProblem(reply, 400, error.message, [...error.fields]);
  if (error instanceof NotFoundError) return sendProblem(reply, 404, error.message);
  if (error instanceof RigError) return sendProblem(reply, 409, error.message);
  if (error.statusCode !== undefined && error.statusCode < 500)
    return sendProblem(reply, error.statusCode, error.message);
  return sendProblem(reply, 500, error.message);
}
