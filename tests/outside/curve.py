"""Random loss curves, and what scipy makes of them: read line by line by outside/curve.c.

    curve KIND N M     then N lines `f value u` and M lines `f value u`, the latter expected
    law N A B S        then N lines `f value u` of a weighted cable-law fit
"""
import numpy as np
from scipy.interpolate import CubicHermiteSpline, interp1d
from scipy.optimize import curve_fit

random = np.random.default_rng(2026)


def steffen_slopes(x, y):
    """Steffen 1990, equations 10, 11 and, for the ends, the secants (as GSL does)."""
    h, s = np.diff(x), np.diff(y) / np.diff(x)
    p = (s[:-1] * h[1:] + s[1:] * h[:-1]) / (h[:-1] + h[1:])
    inner = (np.sign(s[:-1]) + np.sign(s[1:])) * np.minimum(np.minimum(abs(s[:-1]), abs(s[1:])), abs(p) / 2)
    return np.concatenate(([s[0]], inner, [s[-1]]))


def show(*numbers):
    print(*(repr(float(number)) for number in numbers))


for case in range(60):
    n = int(random.integers(3, 25))
    f = np.unique(np.exp(random.uniform(np.log(1e5), np.log(6e9), n)))
    value, u = random.uniform(-20, 60, len(f)), random.uniform(0.01, 0.5, len(f))
    x = np.log(f)
    at = np.exp(random.uniform(x[0], x[-1], 40))
    at = at[(at > f[0]) & (at < f[-1])]
    line = interp1d(x, value)(np.log(at))
    smooth = CubicHermiteSpline(x, value, steffen_slopes(x, value))(np.log(at))
    spread = np.hypot(interp1d(x, u)(np.log(at)), (line - smooth) / np.sqrt(3))
    for kind, expected in (("linear", line), ("smooth", smooth)):
        print("curve", kind, len(f), len(at))
        for row in zip(f, value, u):
            show(*row)
        for row in zip(at, expected, spread):
            show(*row)

for case in range(20):
    n = int(random.integers(3, 12))
    f = np.unique(np.exp(random.uniform(np.log(1e6), np.log(3e9), n)))
    u = random.uniform(0.01, 0.3, len(f))
    value = 4e-5 * np.sqrt(f) + 3e-10 * f + random.normal(0, u)
    top = f[-1]
    (a, b), _ = curve_fit(lambda g, a, b: a * np.sqrt(g) + b * g, f / top, value, sigma=u)
    rest = value - a * np.sqrt(f / top) - b * f / top
    print("law", len(f), repr(float(a / np.sqrt(top))), repr(float(b / top)), repr(float(np.sqrt(sum(rest**2) / (len(f) - 2)))))
    for row in zip(f, value, u):
        show(*row)
