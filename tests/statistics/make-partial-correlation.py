"""Expected values of partial-correlation.test.ts: residuals of two regressions, correlated.
python3 make-partial-correlation.py, numpy 2.4.6, scipy 1.17.1
"""
import numpy as np
from scipy import stats

x = np.array([2, 4, 3, 7, 6, 9, 8, 12.0])
y = np.array([1, 3, 5, 4, 8, 7, 11, 9.0])
z = np.array([5, 1, 4, 6, 2, 8, 3, 7.0])


def residual(a):
    return a - np.polyval(np.polyfit(z, a, 1), z)


r = np.corrcoef(residual(x), residual(y))[0, 1]
n = len(x)
half = stats.norm.ppf(0.975) / np.sqrt(n - 4)
t = r * np.sqrt((n - 3) / (1 - r * r))
print(repr(r), np.tanh(np.arctanh(r) - half), np.tanh(np.arctanh(r) + half), 2 * stats.t.sf(abs(t), n - 3))
