/** A set of an invented player: a file of recorded-streams that lies beside the app and is fetched when asked for. */
export interface InventedSet {
  readonly player: string;
  readonly setId: string;
  readonly address: URL;
}

const [B, C, D] = ['Player B (invented)', 'Player C (invented)', 'Player D (invented)'] as const;

// Addresses are written out, one by one, because that is how the build finds the files.
export const INVENTED_SETS: readonly InventedSet[] = [
  {
    player: B,
    setId: 'player-b-day-1',
    address: new URL('../../../recorded-streams/player-b-day-1.mcap', import.meta.url),
  },
  {
    player: B,
    setId: 'player-b-day-2',
    address: new URL('../../../recorded-streams/player-b-day-2.mcap', import.meta.url),
  },
  {
    player: C,
    setId: 'player-c-day-1',
    address: new URL('../../../recorded-streams/player-c-day-1.mcap', import.meta.url),
  },
  {
    player: C,
    setId: 'player-c-day-2',
    address: new URL('../../../recorded-streams/player-c-day-2.mcap', import.meta.url),
  },
  {
    player: D,
    setId: 'player-d-day-1',
    address: new URL('../../../recorded-streams/player-d-day-1.mcap', import.meta.url),
  },
];
