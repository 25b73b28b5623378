/** Why a bench recording gives no calibration. */
export type CalibrationFaultCode =
  | 'initial-rest-too-short'
  | 'moved-in-initial-rest'
  | 'clipped'
  | 'rests-too-short'
  | 'too-few-rests'
  | 'faces-missing'
  | 'too-few-turns'
  | 'turns-missing'
  | 'implausible'
  | 'too-uncertain';

/** A refusal; `message` says what is wrong and what to do. */
export interface CalibrationFault {
  readonly code: CalibrationFaultCode;
  readonly message: string;
}

/** A step of the calibration that cannot go on. */
export interface Refusal {
  readonly ok: false;
  readonly fault: CalibrationFault;
}

/**
 * A refusal in the shape every step of the calibration answers with.
 * @param code the named reason
 * @param message what is wrong and what to do, for the person at the bench
 */
export function refuse(code: CalibrationFaultCode, message: string): Refusal {
  return { ok: false, fault: { code, message } };
}
