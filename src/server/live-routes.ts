import type { LiveMessage } from "../contract/http.ts";
import { sessionCookie } from "./demand-sign-in.ts";
import type { Routes } from "./routes.ts";
import type { Sessions } from "./sessions.ts";

const encode = (message: LiveMessage) => `event: ${message.kind}\ndata: ${JSON.stringify(message)}\n\n`;

/** GET /live: server-sent events as `LiveMessage` describes, beginning with the state as it stands. */
export const liveRoutes =
  (sessions: Sessions): Routes =>
  ({ lab, desk, seeding }) =>
  async (api) => {
    api.get("/live", { schema: { summary: "Live feed, server-sent events" } }, (request, reply) => {
      reply.hijack();
      const out = reply.raw;
      out.writeHead(200, {
        "content-type": "text/event-stream",
        "cache-control": "no-store",
        "x-accel-buffering": "no",
      });
      // A client that reads too slowly is cut off rather than buffered without bound; it reconnects and sees the state anew.
      const send = (message: LiveMessage) => {
        if (out.writableLength > 4_000_000) out.destroy();
        else out.write(encode(message));
      };
      send({ kind: "rig", rig: desk.rig() });
      send({ kind: "shot", shot: desk.current() });
      send({ kind: "seeding", seeding: seeding.view() });
      const leave = [desk.listen(send), seeding.listen(send)];
      let toldEntries = lab.store.ledger.head().sequence;
      const watchLedger = setInterval(() => {
        // Whoever signed out, or was shut out, hears no more.
        if (request.session !== null && sessions.find(request.cookies[sessionCookie], true) === null)
          out.end();
        const head = lab.store.ledger.head();
        if (head.sequence === toldEntries) return;
        toldEntries = head.sequence;
        send({ kind: "ledger", entries: head.sequence, head: head.hash });
      }, 250);
      const beat = setInterval(() => out.write(": still here\n\n"), 10_000);
      request.raw.on("close", () => {
        clearInterval(beat);
        clearInterval(watchLedger);
        for (const one of leave) one();
      });
    });
  };
