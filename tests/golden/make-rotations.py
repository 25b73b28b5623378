"""Random rotations by scipy, for tests/maths/quaternion.test.ts.

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
print(
    json.dumps(
        {
            "madeBy": "make-rotations.py",
            "scipy": scipy.__version__,
            "numpy": numpy.__version__,
            "seed": SEED,
            "cases": cases,
        },
        indent=1,
    )
)
