"""Values for log-jackknife-interval.test.ts, by leaving rows out one after the other.

Run: python make-jackknife.py        Made with numpy 2.4.6, scipy 1.17.1.
"""

import numpy as np
from scipy import stats

treated = np.array([94, 197, 16, 38, 99, 141, 23.0])
control = np.array([52, 104, 146, 10, 51, 30, 40, 27, 46.0])


def squared_error(logs):
    m = len(logs)
    return (m - 1) / m * np.sum((logs - logs.mean()) ** 2)


def interval(value, squares):
    df = sum(s for s, _ in squares) ** 2 / sum(s**2 / (m - 1) for s, m in squares)
    half = stats.t.ppf(0.975, df) * np.sqrt(sum(s for s, _ in squares))
    return value, value * np.exp(-half), value * np.exp(half)


def logs_without_one(a, of):
    return np.array([np.log(of(np.delete(a, i))) for i in range(len(a))])


var = lambda a: a.var(ddof=1)
sd = lambda a: a.std(ddof=1)
print(interval(var(treated), [(squared_error(logs_without_one(treated, var)), 7)]))
print(
    interval(
        sd(treated) / sd(control),
        [
            (squared_error(logs_without_one(treated, sd)), 7),
            (squared_error(logs_without_one(control, sd)), 9),
        ],
    )
)
