# Reference values of quantiles, robust trend and bootstrap: scipy and numpy.
# Run from the project's root: python3 oracles/robust/make.py
import json, platform
import numpy as np
import scipy
from scipy import stats

rng = np.random.default_rng(20261125)
x = np.round(np.sort(rng.uniform(0, 40, 31)), 4)
y = np.round(170 - 0.05 * x + rng.standard_t(2, 31), 4)
tied_x = np.array([0, 0, 1, 1, 2, 3, 3, 4.0])
tied_y = np.round(rng.normal(size=8), 4)
sample = np.round(rng.gamma(2.0, 3.0, 60), 4)
boot = {}
for name, fn in (("mean", np.mean), ("median", np.median)):
    r = stats.bootstrap((sample,), fn, n_resamples=40000, method="percentile", vectorized=False, rng=np.random.default_rng(1))
    boot[name] = {"standardError": float(r.standard_error), "low": float(r.confidence_interval.low), "high": float(r.confidence_interval.high)}
values = {
    "header": {
        "tool": f"scipy {scipy.__version__}, numpy {np.__version__}, python {platform.python_version()}",
        "command": "python3 oracles/robust/make.py", "seed": 20261125, "date": "2026-11-25", "units": "arbitrary",
        "tolerance": "quantiles 1e-9 and trends 1e-12 relative: same definition, other order of operations; bootstrap: 5 % of the standard error, the Monte-Carlo error of 4000 and 40000 resamples with room",
    },
    "tQuantiles": [{"share": p, "df": d, "value": float(stats.t.ppf(p, d))} for p in (0.6, 0.9, 0.975, 0.999) for d in (1, 2, 3, 5.5, 10, 30, 200)],
    "normalCdf": [{"z": z, "value": float(stats.norm.cdf(z))} for z in (-9, -6, -4.2, -4, -3.9, -1.96, -0.3, 0, 0.5, 1, 2.5, 3.99, 4.01, 7)],
    "theilSen": [{"x": a.tolist(), "y": b.tolist(), "slope": float(stats.theilslopes(b, a).slope)} for a, b in ((x, y), (tied_x, tied_y))],
    "quantiles": {"sample": sample.tolist(), "values": [{"share": q, "value": float(np.quantile(sample, q))} for q in (0, 0.025, 0.33, 0.5, 0.975, 1)]},
    "bootstrap": {"sample": sample.tolist(), **boot},
}
json.dump(values, open("oracles/robust/values.json", "w"), indent=None)
