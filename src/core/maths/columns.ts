// Rows into columns, at every sample: written out, because the compiler does not unroll loops this short.

/** Copies a vector into a column. @param at where its row begins @param v shape (3) */
export function copy3(column: Float64Array, at: number, v: Float64Array): void {
  column[at] = v[0]!;
  column[at + 1] = v[1]!;
  column[at + 2] = v[2]!;
}

/** Copies a quaternion into a column. @param at where its row begins @param q shape (4) */
export function copy4(column: Float64Array, at: number, q: Float64Array): void {
  column[at] = q[0]!;
  column[at + 1] = q[1]!;
  column[at + 2] = q[2]!;
  column[at + 3] = q[3]!;
}
