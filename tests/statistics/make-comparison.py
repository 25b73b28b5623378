"""Values of scipy for welch-difference.test.ts and common-slope.test.ts.

Run: python make-comparison.py   (numbers below were printed with scipy 1.17.1, numpy 2.4.6)
"""

import itertools

import numpy
import scipy
from scipy import stats

print(scipy.__version__, numpy.__version__)
treated = [94, 197, 16, 38, 99, 141, 23]
control = [52, 104, 146, 10, 51, 30, 40, 27, 46]
welch = stats.ttest_ind(treated, control, equal_var=False)
print("welch", welch.statistic, welch.df, *welch.confidence_interval(0.95))

# Analysis of covariance with two levels, by numpy's lstsq.
x = numpy.array([1, 2, 3, 4, 5, 6, 7, 8.0])
y = numpy.array([1.2, 1.9, 3.1, 9.0, 9.4, 10.9, 4.1, 5.3])
label = numpy.array([0, 0, 0, 1, 1, 1, 0, 0])
design = numpy.column_stack([label == 0, label == 1, x]).astype(float)
b, rss, *_ = numpy.linalg.lstsq(design, y, rcond=None)
df = len(x) - 3
se = numpy.sqrt(rss[0] / df * numpy.linalg.inv(design.T @ design)[2, 2])
half = stats.t.ppf(0.975, df) * se
print("common slope", b[2], b[2] - half, b[2] + half)

# All 5! 3! rearrangements within the groups.
centred = x.copy()
for g in (0, 1):
    centred[label == g] -= x[label == g].mean()
observed = abs(centred @ y)
count = total = 0
for p in itertools.permutations(y[label == 0]):
    for q in itertools.permutations(y[label == 1]):
        z = y.copy()
        z[label == 0] = p
        z[label == 1] = q
        total += 1
        count += abs(centred @ z) >= observed * (1 - 1e-10)
print("permutation", count, total, count / total)
