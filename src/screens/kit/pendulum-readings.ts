/** The axis that implements are usually compared about, inside the hand: from the butt end, metres. */
export const COMMON_AXIS_M = 0.1;

/** Scale to 1 g, tape to 2 mm either way: half-width over root 3 (JCGM 100:2008, 4.3.7). */
export const MASS_SE_KG = 0.001 / Math.sqrt(3);
export const LENGTH_SE_M = 0.002 / Math.sqrt(3);
