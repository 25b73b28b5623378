import type { SetSummary } from '../../worker/contract.ts';

/** For instance '40 swings'. */
export function swingWords(swings: number): string {
  return swings === 1 ? '1 swing' : `${swings} swings`;
}

/** What a set was played with, each kit once. Checked: tests/screens/set-words.test.ts */
export function kitWords({ implement, ball, kits }: SetSummary): string {
  return (kits ?? [{ implement, ball }]).map((kit) => `${kit.implement}, ${kit.ball}`).join(' · ');
}
