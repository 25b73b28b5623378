/** Everybody with a stored set, who played last first. @param sets newest first */
export function playersOf(
  sets: readonly { readonly player: string }[],
): readonly { readonly player: string; readonly sets: number }[] {
  const counts = new Map<string, number>();
  for (const { player } of sets) counts.set(player, (counts.get(player) ?? 0) + 1);
  return [...counts].map(([player, count]) => ({ player, sets: count }));
}
