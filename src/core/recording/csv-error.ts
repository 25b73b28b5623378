/** Why a table could not be imported; `message` says what is wrong, where, and what to do. */
export class CsvError extends Error {
  override readonly name = 'CsvError';
  readonly code: CsvErrorCode;

  constructor(code: CsvErrorCode, message: string) {
    super(message);
    this.code = code;
  }
}

export type CsvErrorCode =
  | 'missing-column'
  | 'ragged-row'
  | 'not-a-number'
  | 'time-not-forward'
  | 'too-few-rows'
  | 'implausible-rate'
  | 'implausible-values';
