/** Survival in days. Efron & Tibshirani 1993, table 2.1. */
export const MICE = {
  treated: [94, 197, 16, 38, 99, 141, 23],
  control: [52, 104, 146, 10, 51, 30, 40, 27, 46],
} as const;
