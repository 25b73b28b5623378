/** Why a set with sensors cannot begin without it. */
export const CONSENT_NEEDED =
  'Without consent no set can begin: a player is recorded only when player and parent have agreed.';

/** A day as the file keeps it, year-month-day, by the clock on the wall. */
export function dayOf(date: Date): string {
  const two = (part: number): string => String(part).padStart(2, '0');
  return `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}`;
}

/** A kept day as people here write it. */
export function dayWords(day: string): string {
  return new Date(`${day}T12:00`).toLocaleDateString(undefined, { dateStyle: 'medium' });
}
