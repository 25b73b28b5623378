"""Low-pass and 6-axis filter values, for tests/orientation.

Low-pass: scipy.signal.lfilter started in steady state at the mean of the first tau seconds.
6-axis filter: the reference implementation's Python package, version in the output, with its default parameters
and without magnetometer; the same input is written out again in tests/orientation/vqf-filter.test.ts.
Run: python make-orientation.py > orientation.json
"""

import json
from importlib.metadata import version

import numpy as np
import scipy
from scipy.signal import butter, lfilter, lfilter_zi
from vqf import VQF

SEED = 7
rng = np.random.default_rng(SEED)


def low_pass(fs, tau, n):
    x = rng.normal(1.0, 1.0, n)
    b, a = butter(2, np.sqrt(2) / (2 * np.pi * tau), fs=fs)
    lead = int(round(tau * fs))
    mean = x[:lead].mean()
    y, _ = lfilter(b, a, x[lead:], zi=lfilter_zi(b, a) * mean)
    return {
        "fs": fs,
        "tau": tau,
        "b": b.tolist(),
        "a": a.tolist(),
        "x": x.tolist(),
        "leadMean": float(mean),
        "yAfterLead": y.tolist(),
    }


def motion(fs, n):
    """Rates and specific forces with rests, reversals and a bias; no physics needed to compare programs."""
    t = np.arange(n) / fs
    busy = np.where((t % 12) < 8, 1.0, 0.0)
    gyr = np.stack(
        [
            busy * 3.0 * np.sin(2.1 * t) + 0.011,
            busy * 5.0 * np.sin(3.3 * t + 0.5) - 0.007,
            busy * 2.0 * np.cos(1.7 * t) + 0.004,
        ],
        axis=1,
    )
    acc = np.stack(
        [
            1.5 + busy * 4.0 * np.sin(5.0 * t),
            -2.0 + busy * 3.0 * np.cos(4.0 * t),
            9.0 + busy * 5.0 * np.sin(2.5 * t + 1.0),
        ],
        axis=1,
    )
    return gyr, acc


def filtered(fs, n, at):
    gyr, acc = motion(fs, n)
    vqf = VQF(1 / fs)
    rows = []
    for i in range(n):
        vqf.update(np.ascontiguousarray(gyr[i]), np.ascontiguousarray(acc[i]))
        if i in at:
            bias, _ = vqf.getBiasEstimate()
            rows.append(
                {
                    "i": i,
                    "q": vqf.getQuat6D().tolist(),
                    "biasRadS": bias.tolist(),
                    "rest": bool(vqf.getRestDetected()),
                }
            )
    return {"fs": fs, "rows": rows}


print(
    json.dumps(
        {
            "madeBy": "make-orientation.py",
            "scipy": scipy.__version__,
            "numpy": np.__version__,
            "vqf": version("vqf"),
            "seed": SEED,
            "lowPass": [low_pass(100, 0.5, 90), low_pass(208, 0.25, 90)],
            "motion": filtered(200, 6000, {0, 1, 99, 599, 1999, 2399, 3999, 4799, 5999}),
        },
        indent=1,
    )
)
