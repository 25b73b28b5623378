"""Values of other programs for tests/statistics.

Run: python make-golden.py > golden.json
Needs scipy, statsmodels, pingouin and scikit-misc (the loess program of Cleveland, Grosse & Shyu);
their versions and the seed are in the output.
"""

import json

import numpy
import pandas
import pingouin
import scipy
import skmisc
import statsmodels
from scipy import special, stats
from skmisc.loess import loess
from statsmodels.stats.multitest import multipletests
from statsmodels.stats.proportion import proportion_confint

SEED = 20240311
rng = numpy.random.default_rng(SEED)

DF = [1, 2, 3, 7, 18, 39, 200]
P = [1e-6, 0.001, 0.025, 0.2, 0.5, 0.8, 0.95, 0.995]

distributions = {
    "normalCdf": [[z, stats.norm.cdf(z)] for z in (-8, -3.1, -1, 0, 0.4, 2.5, 6)],
    "normalQuantile": [[p, stats.norm.ppf(p)] for p in P],
    "tTwoSidedP": [[t, df, 2 * stats.t.sf(t, df)] for t in (0.1, 1, 2.3, 9, 40) for df in DF],
    "tQuantile": [[p, df, stats.t.ppf(p, df)] for p in P for df in DF],
    "fUpperP": [[f, a, b, stats.f.sf(f, a, b)] for f in (0.02, 1, 4, 60) for a in (1, 4, 30) for b in (3, 20, 7.5)],
    "fQuantile": [[p, a, b, stats.f.ppf(p, a, b)] for p in P for a in (1, 4, 30) for b in (3, 20, 7.5)],
    "chiSquareQuantile": [[p, df, stats.chi2.ppf(p, df)] for p in P for df in DF],
    "logGamma": [[x, special.gammaln(x)] for x in (0.5, 1.5, 7, 19.5, 300)],
}


def smooth(n, span, degree):
    x = numpy.round(rng.uniform(0.85, 1.05, n), 4)
    y = numpy.round(3 - 200 * (x - 0.95) ** 2 + rng.normal(0, 0.5, n), 4)
    at = numpy.linspace(x.min(), x.max(), 9)
    model = loess(x, y, span=span, degree=degree, surface="direct", statistics="exact")
    model.fit()
    band = model.predict(at, stderror=True)
    interval = band.confidence(0.05)
    return {
        "span": span,
        "degree": degree,
        "x": x.tolist(),
        "y": y.tolist(),
        "at": at.tolist(),
        "fit": band.values.tolist(),
        "low": interval.lower.tolist(),
        "high": interval.upper.tolist(),
        "residualSd": float(model.outputs.residual_scale),
        "equivalentParameters": float(model.outputs.trace_hat),
    }


RATINGS = [[9, 2, 5, 8], [6, 1, 3, 2], [8, 4, 6, 8], [7, 1, 2, 6], [10, 5, 6, 9], [6, 2, 4, 7]]
FORMS = ["1,1", "2,1", "3,1", "1,k", "2,k", "3,k"]
table = pandas.DataFrame(
    [(i, j, float(r)) for i, row in enumerate(RATINGS) for j, r in enumerate(row)],
    columns=["subject", "rater", "rating"],
)
pingouin.options["round.column.CI95"] = None
icc = pingouin.intraclass_corr(table, targets="subject", raters="rater", ratings="rating")
interval_column = next(c for c in icc.columns if c.startswith("CI95"))

proportions = [(0, 10), (1, 10), (7, 12), (40, 40), (263, 1000)]
P_VALUES = [0.01, 0.04, 0.03, 0.005, 0.03, 0.9]
sample = numpy.round(rng.normal(5, 2, 12), 3)
t_interval = stats.t.interval(0.9, 11, sample.mean(), stats.sem(sample))

print(
    json.dumps(
        {
            "madeBy": "make-golden.py",
            "scipy": scipy.__version__,
            "numpy": numpy.__version__,
            "statsmodels": statsmodels.__version__,
            "pingouin": pingouin.__version__,
            "scikit-misc": skmisc.__version__,
            "seed": SEED,
            "distributions": distributions,
            "localRegression": [smooth(30, 0.75, 2), smooth(30, 0.6, 1), smooth(45, 1.0, 2)],
            "icc": {
                "ratings": RATINGS,
                "forms": [
                    {"form": form, "value": float(row["ICC"]), "interval": [float(v) for v in row[interval_column]]}
                    for form, (_, row) in zip(FORMS, icc.iterrows())
                ],
            },
            "wilson": [[k, n, *map(float, proportion_confint(k, n, 0.05, "wilson"))] for k, n in proportions],
            "holm": {"p": P_VALUES, "adjusted": multipletests(P_VALUES, method="holm")[1].tolist()},
            "meanInterval": {"sample": sample.tolist(), "level": 0.9, "interval": list(map(float, t_interval))},
        },
        indent=1,
        default=float,
    )
)
