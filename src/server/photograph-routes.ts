import Type, { type Static } from "typebox";
import { largestPhotographBytes, photographShows } from "../contract/photograph-schema.ts";
import { person } from "../contract/record-fields.ts";
import { addPhotograph, photographFile, photographViews } from "../lab/photographs.ts";
import type { Routes } from "./routes.ts";

const told = Type.Object(
  {
    kind: Type.Enum(["specimen", "job"]),
    id: Type.String(),
    name: Type.String(),
    shows: Type.Enum([...photographShows]),
    takenAt: Type.Optional(Type.String()),
    note: Type.Optional(Type.String()),
    by: person,
  },
  { additionalProperties: false },
);
const asked = Type.Object(
  { kind: Type.Enum(["specimen", "job"]), id: Type.String() },
  { additionalProperties: false },
);

/**
 * Photographs: sent as the bytes of the file, with what is told of it in the query; listed; given back as they are or as a copy for
 * publishing.
 */
export const photographRoutes: Routes =
  ({ lab }) =>
  async (api) => {
    // What a file claims to be is not asked: its bytes decide.
    api.addContentTypeParser(
      ["image/png", "image/jpeg", "application/octet-stream"],
      { parseAs: "buffer", bodyLimit: largestPhotographBytes },
      (_request, body, done) => done(null, body),
    );
    api.post<{ Querystring: Static<typeof told>; Body: Buffer | undefined }>(
      "/photographs",
      {
        bodyLimit: largestPhotographBytes,
        config: { needs: "operator" },
        schema: { summary: "Add a photograph, sent as its bytes", querystring: told },
      },
      async ({ query: { kind, id, ...more }, body, lab }, reply) => {
        const bytes = Buffer.isBuffer(body) ? body : Buffer.alloc(0);
        const view = addPhotograph(lab, bytes, { about: { kind, id }, ...more }, "photograph");
        return reply.code(201).send(view);
      },
    );
    api.get<{ Querystring: Static<typeof asked> }>(
      "/photographs",
      { schema: { summary: "Photographs of a specimen or job", querystring: asked } },
      async ({ query }) => photographViews(lab, query),
    );
    for (const [path, publish, summary] of [
      ["/photographs/:hash", false, "A photograph as it was received"],
      ["/photographs/:hash/published", true, "A photograph without places, times, words and previews"],
    ] as const)
      api.get<{ Params: { hash: string } }>(path, { schema: { summary } }, async ({ params }, reply) => {
        const { record, bytes } = photographFile(lab, params.hash, { publish });
        return reply
          .type(record.mediaType)
          .header("x-content-type-options", "nosniff")
          .send(Buffer.from(bytes));
      });
  };
