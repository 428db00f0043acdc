import Database from "better-sqlite3";
import { migrate } from "./migrations/migrate.ts";
import { projectionSchema } from "./projection-tables.ts";

/** Tables, indices and triggers must be those that this program makes: a dropped trigger is how rows get altered. */
export function schemaProblems(database: Database.Database): string[] {
  const model = new Database(":memory:");
  try {
    migrate(model);
    model.exec(projectionSchema);
    const wanted = schemaOf(model);
    const found = schemaOf(database);
    return [
      ...[...wanted].flatMap(([name, sql]) =>
        found.get(name) === sql ? [] : [`the ${name} is ${found.has(name) ? "altered" : "missing"}`],
      ),
      ...[...found.keys()].flatMap((name) =>
        wanted.has(name) ? [] : [`the ${name} is not of this program`],
      ),
    ];
  } finally {
    model.close();
  }
}

function schemaOf(database: Database.Database): Map<string, string | null> {
  const rows = database
    .prepare<[], { type: string; name: string; sql: string | null }>(
      "SELECT type, name, sql FROM sqlite_schema WHERE name NOT LIKE 'sqlite_stat%' ORDER BY name",
    )
    .all();
  return new Map(rows.map(({ type, name, sql }) => [`${type} ${name}`, sql]));
}
