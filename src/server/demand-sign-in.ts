import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import type { Role } from "../contract/ledger-entries.ts";
import { person as makesEntry } from "../contract/record-fields.ts";
import type { Lab } from "../lab/lab.ts";
import { peopleOf, rolesOf } from "../lab/people.ts";
import { sendProblem } from "./problem.ts";
import type { ServerDependencies } from "./routes.ts";
import type { Session, Sessions } from "./sessions.ts";

/** Name of the cookie that holds the token of a session. */
export const sessionCookie = "asfound-session";

declare module "fastify" {
  interface FastifyContextConfig {
    /** Which role a request needs; `nobody` also serves who is not signed in. Left out: a viewer's, for reading only. */
    needs?: Role | "nobody";
    /** True where the request drives the bench, which one session does at a time. */
    drivesBench?: true;
  }
  interface FastifyRequest {
    /** The lab, acted on by whoever is signed in. */
    lab: Lab;
    session: Session | null;
  }
}

/**
 * Has every request of `api` answer for who makes it. While the lab knows nobody, this machine's user does everything and names
 * are typed; from the first person on, whoever wants anything but the session itself and the stop signs in and has the role that
 * the route needs. Entries are then made in the name of that person.
 *
 * @throws Error where a route that writes does not say which role it needs
 */
export function demandSignIn(
  api: FastifyInstance,
  { lab, desk }: ServerDependencies,
  sessions: Sessions,
): void {
  api.decorateRequest("lab");
  api.decorateRequest("session", null);
  api.addHook("onRoute", ({ method, url, config }) => {
    const reads = [method].flat().every((one) => one === "GET" || one === "HEAD");
    if (!reads && config?.needs === undefined)
      throw new Error(`${String(method)} ${url} writes and does not say which role it needs`);
  });
  api.addHook("onRequest", async (request, reply) => {
    const session = sessions.find(request.cookies[sessionCookie]);
    request.session = session;
    request.lab = session === null ? lab : { ...lab, actor: session.person, signIn: session.signIn };
    if (peopleOf(lab).length === 0) return undefined;
    const { needs = "viewer", drivesBench } = request.routeOptions.config;
    if (needs === "nobody") return undefined;
    if (session === null) return sendProblem(reply, 401, "Sign in first");
    const roles = rolesOf(lab, session.person);
    const may = needs === "viewer" ? roles.length > 0 : roles.includes(needs);
    if (!may)
      return sendProblem(
        reply,
        403,
        `This needs the role ${needs}; ${session.person} has ${roles.join(", ") || "none any more"}`,
      );
    if (drivesBench !== true) return undefined;
    const other = sessions.takeBench(session, desk.current() !== null);
    if (other === null) return undefined;
    return sendProblem(
      reply,
      409,
      `${other} drives the bench in another session; accepted once it is given back there, or a quarter of an hour after the last that was heard of it`,
    );
  });
  api.addHook("preValidation", async (request, reply) => signFor(request, reply));
}

/** Where a request says who makes the entry, that is the person signed in, who need not be typed again. */
function signFor(request: FastifyRequest, reply: FastifyReply): FastifyReply | undefined {
  const { session } = request;
  if (session === null) return undefined;
  const { schema } = request.routeOptions;
  for (const [part, given] of [
    [schema?.body, request.body],
    [schema?.querystring, request.query],
  ] as const) {
    const properties = (part as { properties?: { by?: unknown } } | undefined)?.properties;
    if (properties?.by !== makesEntry || typeof given !== "object" || given === null) continue;
    const entry = given as { by?: unknown };
    if (entry.by !== undefined && entry.by !== session.person)
      return sendProblem(
        reply,
        403,
        `by: found ${JSON.stringify(entry.by)}; ${session.person} is signed in, and nobody signs for another`,
      );
    entry.by = session.person;
  }
  return undefined;
}
