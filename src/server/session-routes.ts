import rateLimit from "@fastify/rate-limit";
import type { FastifyReply, FastifyRequest } from "fastify";
import {
  type ChangePassword,
  changePasswordInput,
  type SessionView,
  type SignIn,
  signInInput,
} from "../contract/people-schema.ts";
import { changePassword, peopleOf, rolesOf, signIn } from "../lab/people.ts";
import { sessionCookie } from "./demand-sign-in.ts";
import { sendProblem } from "./problem.ts";
import type { Routes } from "./routes.ts";
import type { Sessions } from "./sessions.ts";

/** Signing in and out, the own password, and giving the bench back. */
export const sessionRoutes =
  (sessions: Sessions, secure: boolean): Routes =>
  ({ lab, desk }) =>
  async (api) => {
    const view = (request: Pick<FastifyRequest, "session">): SessionView => {
      const { session } = request;
      return {
        demanded: peopleOf(lab).length > 0,
        person: session?.person ?? null,
        roles: session === null ? [] : [...rolesOf(lab, session.person)],
        until: session === null ? null : new Date(session.untilMs).toISOString(),
        bench: sessions.bench(session, desk.current() !== null),
      };
    };
    const cookie = { path: "/", httpOnly: true, sameSite: "strict", secure } as const;
    const leave = (request: FastifyRequest, reply: FastifyReply): FastifyReply => {
      if (request.session !== null) sessions.end(request.session);
      request.session = null;
      return reply.clearCookie(sessionCookie, cookie);
    };
    const open = { needs: "nobody" } as const;

    api.get("/session", { config: open, schema: { summary: "Who is at this page" } }, async (request) =>
      view(request),
    );
    await api.register(async (guarded) => {
      // A password is guessed neither fast nor often. Counted by address: behind loopback all count as one.
      await guarded.register(rateLimit, {
        ...{ max: 10, timeWindow: "1 minute" },
        errorResponseBuilder: (_request, { after }) => ({
          statusCode: 429,
          message: `Too many attempts to sign in; try again in ${after}`,
        }),
      });
      guarded.post<{ Body: SignIn }>(
        "/session",
        { config: open, schema: { summary: "Sign in", body: signInInput } },
        async (request, reply) => {
          const signedIn = await signIn(lab, request.body, "sign-in");
          if (signedIn === null) return sendProblem(reply, 401, "Name or password is not right");
          leave(request, reply);
          const token = sessions.begin(signedIn.person, signedIn.sequence);
          request.session = sessions.find(token);
          return reply.setCookie(sessionCookie, token, cookie).code(201).send(view(request));
        },
      );
      guarded.post<{ Body: ChangePassword }>(
        "/session/password",
        {
          config: { needs: "viewer" },
          schema: { summary: "Change the own password", body: changePasswordInput },
        },
        async (request, reply) => {
          if (request.session === null) return sendProblem(reply, 401, "Sign in first");
          await changePassword(request.lab, request.body, "password");
          sessions.endAllOf(request.session.person, request.session);
          return view(request);
        },
      );
    });
    api.post("/session/end", { config: open, schema: { summary: "Sign out" } }, async (request, reply) => {
      leave(request, reply);
      return view(request);
    });
    api.post(
      "/session/bench/give-back",
      { config: { needs: "viewer" }, schema: { summary: "Give the bench back to whoever takes it next" } },
      async (request) => {
        if (request.session !== null && desk.current() === null) sessions.giveBenchBack(request.session);
        return view(request);
      },
    );
  };
