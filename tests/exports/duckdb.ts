import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DuckDBInstance } from '@duckdb/node-api';

/** Runs one query in an empty database. @returns rows as plain objects */
export async function query(sql: string): Promise<Record<string, unknown>[]> {
  const instance = await DuckDBInstance.create(':memory:');
  const connection = await instance.connect();
  try {
    const reader = await connection.runAndReadAll(sql);
    return reader.getRowObjectsJS();
  } finally {
    connection.closeSync();
    instance.closeSync();
  }
}

/** A folder for files that DuckDB is to read; `write` gives a file's path. */
export function exportFolder() {
  const folder = mkdtempSync(join(tmpdir(), 'reach-funnel-exports-'));
  return {
    write(name: string, parts: Iterable<string | Uint8Array>): string {
      const path = join(folder, name);
      writeFileSync(path, Buffer.concat(Array.from(parts, (part) => Buffer.from(part as string))));
      return path;
    },
    remove: () => rmSync(folder, { recursive: true }),
  };
}
