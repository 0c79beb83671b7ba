#!/usr/bin/python3
"""Makes tests/outside/check.txt: random checks of an analyzer, and what the package uncertainties makes of their corrections.
Needs the packages python3-uncertainties (3.1.6) and python3-scipy (1.10); the test itself needs neither.

    /usr/bin/python3 tests/outside/check.py > tests/outside/check.txt

    case LEVEL_U SOURCE_VSWR METER_VSWR ANALYZER_VSWR RESOLUTION     (METER_VSWR 0: not stated)
    at F LEVEL LEAD LEAD_U N SHOWS...
    is CORRECTION U DOF EXPANDED        (DOF 0: infinite)

The terms are correlated variables of that package, each with its standard uncertainty; the correction is their difference, so the package
propagates and the list of its error components gives the shares for the degrees of freedom. Student's factor is scipy's.
"""
import math
import random
import statistics

from scipy import stats
from uncertainties import ufloat

random.seed(2027)
COVERAGE = math.erf(math.sqrt(2))


def reflection(vswr):
    return (vswr - 1) / (vswr + 1)


def mismatch(m):
    """U-shaped, half-width 20 lg(1 + m), to first order 8.686 m (EA-4/02 M, S7.6)."""
    return ufloat(0, 20 / math.log(10) * m / math.sqrt(2))


def scatter_of(places):
    many = [shows for *_, shows in places if len(shows) > 1]
    dof = sum(len(shows) - 1 for shows in many)
    squares = sum(statistics.variance(shows) * (len(shows) - 1) for shows in many)
    return (math.sqrt(squares / dof), dof) if dof else (0.05, math.inf)


def result(case, place, pooled):
    level_u, source, meter, analyzer, resolution = case
    _, level, lead, lead_u, shows = place
    n = len(shows)
    s, dof = (statistics.stdev(shows), n - 1) if n > 1 else pooled
    shown = ufloat(statistics.fmean(shows), s / math.sqrt(n))
    correction = ufloat(level, level_u) - ufloat(lead, lead_u) - shown + ufloat(0, resolution / math.sqrt(3))
    correction += mismatch(reflection(source) * reflection(analyzer))
    if meter:
        correction += mismatch(reflection(source) * reflection(meter))
    u, share = correction.std_dev, correction.error_components()[shown]
    effective = u ** 4 / (share ** 4 / dof) if share > 0 and math.isfinite(dof) else math.inf
    k = stats.t.ppf((1 + COVERAGE) / 2, max(1, math.floor(effective * (1 + 1e-12)))) if math.isfinite(effective) else 2.0
    return correction.nominal_value, u, effective if math.isfinite(effective) else 0, k * u


def show(word, *numbers):
    print(word, *(repr(number) for number in numbers))


for _ in range(40):
    case = (random.uniform(0.02, 0.5), random.uniform(1, 1.5), random.choice((0, random.uniform(1, 1.5))), random.uniform(1, 3),
            random.choice((0.5, 0.05, 0.005)))
    places, f = [], 1e6
    for _ in range(random.randint(1, 6)):
        f *= random.uniform(1.1, 5)
        level, error = random.uniform(-40, 0), random.gauss(0, 1)
        shows = [round(level + error + random.gauss(0, 0.1), 2) for _ in range(random.choice((1, 2, 3, 5)))]
        places.append((f, level, random.uniform(0, 3), random.uniform(0.001, 0.2), shows))
    show("case", *case)
    for place in places:
        show("at", *place[:4], len(place[4]), *place[4])
        show("is", *result(case, place, scatter_of(places)))
