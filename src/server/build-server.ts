import { existsSync } from "node:fs";
import { join } from "node:path";
import fastifyCookie from "@fastify/cookie";
import fastifyStatic from "@fastify/static";
import fastifySwagger from "@fastify/swagger";
import type { TypeBoxTypeProvider } from "@fastify/type-provider-typebox";
import fastify, { type FastifyInstance } from "fastify";
import { programVersion, projectFolder } from "../lab/project-folder.ts";
import { amendmentRoutes } from "./amendment-routes.ts";
import { bandRoutes } from "./band-routes.ts";
import { calibrationRoutes } from "./calibration-routes.ts";
import { custodyRoutes } from "./custody-routes.ts";
import { demandSignIn } from "./demand-sign-in.ts";
import { exhibitRoutes } from "./exhibit-routes.ts";
import { figureRoutes } from "./figure-routes.ts";
import { gateRoutes } from "./gate-routes.ts";
import { importRoutes } from "./import-routes.ts";
import { jobRoutes } from "./job-routes.ts";
import { labRoutes } from "./lab-routes.ts";
import { limitRoutes } from "./limit-routes.ts";
import { liveRoutes } from "./live-routes.ts";
import { peopleRoutes } from "./people-routes.ts";
import { photographRoutes } from "./photograph-routes.ts";
import { planRoutes } from "./plan-routes.ts";
import { policyRoutes } from "./policy-routes.ts";
import { handleError, sendProblem } from "./problem.ts";
import { programmeRoutes } from "./programme-routes.ts";
import { rateRoutes } from "./rate-routes.ts";
import { reviewRoutes } from "./review-routes.ts";
import { rigRoutes } from "./rig-routes.ts";
import type { ServerDependencies } from "./routes.ts";
import { sessionRoutes } from "./session-routes.ts";
import { Sessions } from "./sessions.ts";
import { shotRoutes } from "./shot-routes.ts";
import { specimenRoutes } from "./specimen-routes.ts";
import { studyRoutes } from "./study-routes.ts";
import { verifyRoutes } from "./verify-routes.ts";

const loopbackHosts = new Set(["localhost", "127.0.0.1", "[::1]", "::1"]);

/**
 * Builds the whole HTTP application without listening: resources under /api, their OpenAPI description at
 * /api/openapi.json, the built page everywhere else. Requests that name another host than loopback, or than those of the
 * certificate, are refused, so that a foreign web page cannot reach the bench by a name that resolves here.
 */
export async function buildServer(dependencies: ServerDependencies): Promise<FastifyInstance> {
  const { network } = dependencies;
  const hosts = new Set([...loopbackHosts, ...(network?.names ?? [])]);
  const sessions = new Sessions(dependencies.lab.now);
  const app = fastify({
    ajv: { customOptions: { removeAdditional: false, coerceTypes: false, allErrors: true } },
    bodyLimit: 1_000_000,
    forceCloseConnections: true,
    ...(network === undefined ? {} : { https: { cert: network.certificate, key: network.key } }),
  }).withTypeProvider<TypeBoxTypeProvider>();
  app.setErrorHandler(handleError);
  app.addHook("onRequest", async (request, reply) => {
    if (!hosts.has(request.hostname)) {
      return sendProblem(
        reply,
        403,
        `Found host "${request.hostname}"; this server answers ${network === undefined ? "loopback only" : [...hosts].join(", ")}`,
      );
    }
    const origin = request.headers.origin;
    if (origin !== undefined && request.method !== "GET" && new URL(origin).host !== request.host) {
      return sendProblem(reply, 403, `Found origin "${origin}"; accepted is this server's own page`);
    }
    return undefined;
  });
  await app.register(fastifySwagger, {
    openapi: { openapi: "3.1.0", info: { title: "Asfound", version: programVersion() } },
  });
  await app.register(
    async (api) => {
      await api.register(fastifyCookie);
      demandSignIn(api, dependencies, sessions);
      for (const routes of [
        sessionRoutes(sessions, network !== undefined),
        peopleRoutes(sessions),
        labRoutes,
        limitRoutes,
        specimenRoutes,
        shotRoutes,
        rigRoutes,
        liveRoutes(sessions),
        bandRoutes,
        calibrationRoutes,
        policyRoutes,
        programmeRoutes,
        figureRoutes,
        exhibitRoutes,
        rateRoutes,
        studyRoutes,
        planRoutes,
        importRoutes,
        verifyRoutes,
        jobRoutes,
        custodyRoutes,
        photographRoutes,
        gateRoutes,
        amendmentRoutes,
        reviewRoutes,
      ]) {
        await api.register(routes(dependencies));
      }
      api.get("/openapi.json", { config: { needs: "nobody" }, schema: { hide: true } }, async () =>
        app.swagger(),
      );
    },
    { prefix: "/api" },
  );
  const page = join(projectFolder(), "dist", "page");
  if (existsSync(page)) await app.register(fastifyStatic, { root: page });
  app.setNotFoundHandler((request, reply) =>
    sendProblem(reply, 404, `There is nothing at ${request.method} ${request.url}`),
  );
  return app as unknown as FastifyInstance;
}
