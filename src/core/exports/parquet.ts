import { ByteWriter, ParquetWriter, type SchemaElement } from 'hyparquet-writer';
import {
  BATCH_ROWS,
  batchesOf,
  type Cell,
  type Column,
  type ColumnKind,
  type Table,
} from './table.ts';

const TYPES: Readonly<Record<ColumnKind, Partial<SchemaElement>>> = {
  text: { type: 'BYTE_ARRAY', converted_type: 'UTF8', logical_type: { type: 'STRING' } },
  number: { type: 'DOUBLE' },
  integer: { type: 'INT32' },
  truth: { type: 'BOOLEAN' },
  time: {
    type: 'INT64',
    converted_type: 'TIMESTAMP_MILLIS',
    logical_type: { type: 'TIMESTAMP', isAdjustedToUTC: true, unit: 'MILLIS' },
  },
};

/**
 * A table as an Apache Parquet file, Snappy-compressed, one row group per batch. Key-value metadata: `table` its
 * name, and `column/<name>` for each column `{"unit", "meaning"}` as JSON.
 * @param createdBy program and version
 * @returns pieces that follow each other; together they are the file
 * Source: github.com/apache/parquet-format, written by hyparquet-writer.
 * Checked: tests/exports/parquet.test.ts, read back by hyparquet and by DuckDB
 */
export function* parquetChunks(
  table: Table,
  createdBy: string,
): Generator<Uint8Array<ArrayBuffer>, void, void> {
  const bytes = new ByteWriter();
  const writer = new ParquetWriter({
    writer: bytes,
    schema: schemaOf(table.columns),
    kvMetadata: [{ key: 'table', value: table.name }, ...table.columns.map(described)],
    createdBy,
  });
  for (const rows of batchesOf(table.rows)) {
    const columnData = table.columns.map(({ name, kind }, i) => ({
      name,
      data: rows.map((row) => written(row[i]!, kind)),
    }));
    writer.write({ columnData, rowGroupSize: BATCH_ROWS });
    yield drain(bytes);
  }
  writer.finish();
  yield drain(bytes);
}

function schemaOf(columns: readonly Column[]): SchemaElement[] {
  const fields = columns.map(
    ({ name, kind }): SchemaElement => ({ name, repetition_type: 'OPTIONAL', ...TYPES[kind] }),
  );
  return [{ name: 'root', num_children: fields.length }, ...fields];
}

function described({ name, unit, meaning }: Column): { key: string; value: string } {
  return { key: `column/${name}`, value: JSON.stringify({ unit, meaning }) };
}

function written(cell: Cell, kind: ColumnKind): Cell | Date {
  return kind === 'time' && cell !== null ? new Date(Number(cell)) : cell;
}

/** What was written since the last time. Positions in the file go by `offset`, which goes on. */
function drain(bytes: ByteWriter): Uint8Array<ArrayBuffer> {
  const chunk = new Uint8Array(bytes.getBuffer());
  bytes.index = 0;
  return chunk;
}
