"""Rotations by scipy, for tests/maths/quaternion.test.ts and tests/simulator/arm-kinematics.test.ts.

Run: python make-rotations.py > rotations.json   (scipy and numpy versions and the seed are in the output)
"""

import json

import numpy
import scipy
from scipy.spatial.transform import Rotation, Slerp

SEED = 20240117
rng = numpy.random.default_rng(SEED)


def scalar_first(rotation):
    return rotation.as_quat(canonical=True)[[3, 0, 1, 2]].tolist()


cases = []
for _ in range(12):
    p = Rotation.random(rng=rng)
    q = Rotation.random(rng=rng)
    t = float(rng.uniform())
    v = rng.normal(size=3)
    cases.append(
        {
            "p": scalar_first(p),
            "q": scalar_first(q),
            "product": scalar_first(p * q),
            "rotationVectorP": p.as_rotvec().tolist(),
            "matrixP": p.as_matrix().tolist(),
            "angle": float((p.inv() * q).magnitude()),
            "t": t,
            "slerp": scalar_first(Slerp([0, 1], Rotation.concatenate([p, q]))([t])[0]),
            "v": v.tolist(),
            "rotated": p.apply(v).tolist(),
        }
    )
# Turns so small or so near half a turn that a careless formula loses digits.
extremes = []
for size in (1e-12, 1e-8, 1e-5, 0.99e-4, 1.01e-4, 1e-3, numpy.pi - 1e-3, numpy.pi - 1e-6):
    direction = rng.normal(size=3)
    rotation = Rotation.from_rotvec(size * direction / numpy.linalg.norm(direction))
    extremes.append(
        {
            "rotationVector": rotation.as_rotvec().tolist(),
            "q": scalar_first(rotation),
            "matrix": rotation.as_matrix().tolist(),
        }
    )

# Three segments in a row: intrinsic turn, dip, twist (z, y, x) of each in the world, length along its own x.
arms = []
for _ in range(6):
    angles = rng.uniform(-numpy.pi, numpy.pi, size=(3, 3))
    lengths = rng.uniform(0.15, 0.7, size=3)
    shoulder = rng.normal(size=3)
    offset = 0.1 * rng.normal(size=3)
    segments = [Rotation.from_euler("ZYX", a) for a in angles]
    parts = [segment.apply([length, 0, 0]) for segment, length in zip(segments, lengths)]
    arms.append(
        {
            "angles": angles.ravel().tolist(),
            "lengths": lengths.tolist(),
            "shoulder": shoulder.tolist(),
            "offset": offset.tolist(),
            "q": [scalar_first(segment) for segment in segments],
            "reachVector": sum(parts).tolist(),
            "pointOnImplement": (shoulder + parts[0] + parts[1] + segments[2].apply(offset)).tolist(),
        }
    )

print(
    json.dumps(
        {
            "madeBy": "make-rotations.py",
            "scipy": scipy.__version__,
            "numpy": numpy.__version__,
            "seed": SEED,
            "cases": cases,
            "extremes": extremes,
            "arms": arms,
        },
        indent=1,
    )
)
