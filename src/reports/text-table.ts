/**
 * A table for a fixed-width font, columns right-aligned and two spaces apart.
 * @param columns head of each column
 * @param rows cells, as many per row as there are columns
 * @returns lines indented by two spaces, without trailing spaces or a last line break
 */
export function textTable(
  columns: readonly string[],
  rows: readonly (readonly string[])[],
): string {
  const lines = [columns, ...rows];
  const widths = columns.map((_, column) =>
    Math.max(...lines.map((cells) => cells[column]!.length)),
  );
  return lines
    .map((cells) =>
      `  ${cells.map((cell, column) => cell.padStart(widths[column]!)).join('  ')}`.trimEnd(),
    )
    .join('\n');
}
