import { execFileSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { request } from "node:https";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { asfound, finished, firstDocument, startAsfound, toolIsThere, workplace } from "./asfound.ts";

const place = workplace();
const [certificate, key, password] = ["bench.pem", "bench-key.pem", "password"].map((name) =>
  join(place.folder, name),
) as [string, string, string];
const start = [
  "start",
  "--data",
  place.data,
  "--empty",
  "--port",
  "0",
  "--json",
  "--link",
  "emulated?speed=400",
];

beforeAll(() => writeFileSync(password, "correct horse battery\n"));
afterAll(place.remove);

const give = (...more: string[]) =>
  asfound(["people", "give", "Ada Rivers", "--data", place.data, "--by", "Ada Rivers", "--json", ...more]);

describe.skipIf(!toolIsThere("openssl"))("a bench that is open to a network", () => {
  it("is refused while nobody can sign in, and without a certificate", async () => {
    const open = [...start, "--host", "0.0.0.0"];
    const nobody = await asfound(open);
    expect(nobody.code).toBe(2);
    expect(nobody.document.error).toContain("nobody can sign in yet");

    const unfit = await give("--roles", "operator", "--password-file", password);
    expect(unfit.code).toBe(2);
    expect(unfit.document.error).toContain("the first person is an administrator");
    const given = await give("--roles", "operator,administrator", "--password-file", password);
    expect(given.document).toMatchObject({ person: "Ada Rivers", roles: ["operator", "administrator"] });
    const { document } = await asfound(["people", "list", "--data", place.data, "--json"]);
    expect(document.people).toHaveLength(1);

    const bare = await asfound(open);
    expect(bare.code).toBe(2);
    expect(bare.document.error).toContain("--certificate FILE");
  });

  it("takes a password that is piped in", async () => {
    const piped = await asfound(
      ["people", "give", "Ben Hollis", "--data", place.data, "--roles", "viewer", "--password"].concat(
        "--by",
        "x",
      ),
      "another long password\n",
    );
    expect(piped.code).toBe(0);
    expect(piped.stdout).toContain("Ben Hollis");
  });

  it("serves TLS under the names of its certificate, to who signs in, and keeps the password out of the files", async () => {
    const subject = ["-subj", "/CN=bench", "-addext", "subjectAltName=DNS:bench.example,IP:127.0.0.1"];
    execFileSync(
      "openssl",
      [
        "req",
        "-x509",
        "-newkey",
        "ec",
        "-pkeyopt",
        "ec_paramgen_curve:prime256v1",
        "-nodes",
        "-days",
        "2",
      ].concat(["-keyout", key, "-out", certificate], subject),
      { stdio: "ignore" },
    );
    const program = startAsfound([...start, "--host", "0.0.0.0", "--certificate", certificate, "--key", key]);
    const { page } = await firstDocument(program);
    expect(page).toMatch(/^https:\/\/bench\.example:\d+\/$/);
    const { port } = new URL(page);
    const ask = (method: string, path: string, host: string, body?: object, cookie = "") =>
      new Promise<{ status: number; text: string; cookie: string }>((settle, fail) => {
        const asked = request(
          {
            ...{ host: "127.0.0.1", port, method, path, ca: readFileSync(certificate), agent: false },
            servername: "bench.example",
            headers: { host: `${host}:${port}`, cookie, "content-type": "application/json" },
          },
          (answer) => {
            let text = "";
            answer.setEncoding("utf8").on("data", (piece: string) => {
              text += piece;
            });
            answer.on("end", () =>
              settle({
                status: answer.statusCode ?? 0,
                text,
                cookie: answer.headers["set-cookie"]?.[0] ?? "",
              }),
            );
          },
        );
        asked.on("error", fail);
        asked.end(body === undefined ? undefined : JSON.stringify(body));
      });
    expect((await ask("GET", "/api/specimens", "bench.example")).status).toBe(401);
    expect((await ask("GET", "/api/session", "elsewhere.example")).status).toBe(403);
    const credentials = { person: "Ada Rivers", password: "correct horse battery" };
    const signedIn = await ask("POST", "/api/session", "bench.example", credentials);
    expect(signedIn.status).toBe(201);
    expect(signedIn.cookie).toMatch(/Secure/);
    const cookie = signedIn.cookie.split(";")[0] ?? "";
    expect((await ask("GET", "/api/specimens", "bench.example", undefined, cookie)).text).toBe("[]");
    program.kill("SIGTERM");
    expect((await finished(program)).code).toBe(0);
    expect(readFileSync(join(place.data, "asfound.sqlite")).includes("correct horse battery")).toBe(false);
    expect((await asfound(["verify", "--data", place.data])).code).toBe(0);
  });
});
