import type { VirtualArm } from './virtual-arms.ts';

/**
 * Players for the measures of the arm, all invented; that scaled equipment goes with the first and full-size
 * equipment with the second is common practice, no source for their numbers.
 */
const FREE = { startDeg: [-130, -210, -270], contactDeg: [-75, -110, -102] } as const;
/** Elbow at the same angle throughout; the wrist is thrown late. */
const STIFF = {
  startDeg: [-150, -185, -177],
  contactDeg: [-75, -110, -102],
  cockedDeg: 58,
} as const;

/** Forearm and hand vary, the forearm makes up for the upper arm. */
export const DISTAL_COUPLED: VirtualArm = {
  ...FREE,
  latents: [
    { steady: [3, 6, 0] },
    { steady: [0, 2, 0] },
    { steady: [0, 0, 6] },
    { early: [1, 4, 4] },
  ],
};

/** The upper arm varies over a still elbow, until the hand varies just before contact. */
export const PROXIMAL_FROZEN: VirtualArm = stiffArm(14);

/** The same with a hand-over index of one third, the limit. */
export const AT_JUMP_LIMIT: VirtualArm = stiffArm(7.65);

/** Segments vary independently in space; the upper arm so much that it carries half of the spread of reach. */
export const APART: VirtualArm = {
  ...FREE,
  latents: [
    { steady: [5.64, 0, 0] },
    { steady: [0, 4, 0] },
    { steady: [0, 0, 5] },
    { early: [2.82, 0, 0] },
    { early: [0, 3, 0] },
  ],
};

/** The arm turns as a whole; elbow and wrist vary independently of it. */
export const WHOLE_ARM: VirtualArm = {
  ...FREE,
  latents: [
    { steady: [4, 4, 4] },
    { steady: [0, 4, 4] },
    { steady: [0, 0, 5] },
    { early: [3, 3, 3] },
  ],
};

/** One course met early or late, with a little independent deviation of each segment. */
export const TIMING_ONLY: VirtualArm = {
  ...FREE,
  shiftSd: 0.03,
  lagSd: 0.05,
  latents: [{ steady: [2, 0, 0] }, { steady: [0, 2, 0] }, { steady: [0, 0, 3] }],
};

/** An elbow that moves through 20 degrees on average, the limit; the rest as in the second player. */
export const AT_ELBOW_LIMIT: VirtualArm = {
  ...STIFF,
  startDeg: [-150, -206.75, -198.75],
  latents: [{ steady: [5, 0, 0] }, { steady: [0, 0.8, 0] }, { early: [0, 3, 0] }],
};

function stiffArm(lateDeg: number): VirtualArm {
  return {
    ...STIFF,
    latents: [
      { steady: [5, 0, 0] },
      { steady: [0, 0.8, 0] },
      { steady: [0, 0, 1] },
      { early: [0, 1.5, 0] },
      { late: [0, 0, lateDeg] },
    ],
  };
}
