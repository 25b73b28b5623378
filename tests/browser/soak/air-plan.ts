/** A sensor out of reach for a while, in seconds of the set. */
export interface Drop {
  /** 16 lower-case hex digits. */
  readonly serial: string;
  readonly atS: number;
  readonly lastsS: number;
}

/** What is simulated in one set of a soak, and what happens on the way through the air. */
export interface AirPlan {
  /** Everything random of player, sensors and radio follows from it. */
  readonly seed: number;
  readonly swings: number;
  /** Simulated seconds per second. */
  readonly speed: number;
  /** Of the packets, each lost once on its way; the sensor can send it again. */
  readonly lossFraction: number;
  readonly drops: readonly Drop[];
}

const NAME = 'soakAir';

/**
 * What the page was told by {@link tellAir}.
 * @throws Error when it was told nothing
 */
export function airOfPage(): AirPlan {
  const air: AirPlan | undefined = Reflect.get(window, NAME);
  if (air === undefined) throw new Error('the soak has not told the page what to simulate');
  return air;
}

/** Tells a page of the soak's app what its next simulated set is like. Runs in the page. */
export function tellAir(air: AirPlan): void {
  // The name as above: this function is sent to the page without its module.
  Reflect.set(window, 'soakAir', air);
}
