/** What a coach has called things. */
export interface Names {
  readonly player: string;
  readonly implement: string;
  readonly ball: string;
}

export const USUAL_NAMES: Names = {
  player: 'Player Z',
  implement: 'short racket',
  ball: 'training ball',
};

/** Of 40 characters, some with no place to break. */
export const LONG_NAMES: Names = {
  player: 'Player Wollmersdorf-Mühlenbeckwaldheimer',
  implement: 'Juniorentrainingsschlägerverkürztmitband',
  ball: 'Larger and slower training ball, 2nd set',
};
