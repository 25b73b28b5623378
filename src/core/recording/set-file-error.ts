/** Why a file could not be read as a set at all; `message` says what is wrong and what to do. */
export interface SetFileError {
  readonly code:
    | 'empty'
    | 'not-a-set-file'
    | 'wrong-profile'
    | 'wrong-version'
    | 'no-description'
    | 'bad-description';
  readonly message: string;
}
