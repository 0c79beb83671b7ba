"""Point 1 as rates: random benches of each kind of emission, at any resolution bandwidth and detector, over or under the limit by 3 to 10 dB."""
import math

from scipy.stats import beta

from bench import Radio, Sweep
from cases import LIMIT, case, mask

BENCHES = 24
READERS = [("rms", "power", 8), ("sample", "power", 8), ("sample", "log", 8), ("peak", "none", 1), ("sample", "none", 1)]


def upper(k, n):
    """Exact (Clopper-Pearson) 95 % upper bound of a rate."""
    return 1.0 if k >= n else float(beta.ppf(0.95, k + 1, n - k))


def random_radio(rng, kind, level):
    """A 5 W radio at 29.6 MHz whose one emission beside the carrier has `level` dBm of whole mean power."""
    if kind == "a line":
        return Radio(29.6e6, 37.0, {2: level})
    if kind == "tone FM":
        tone = rng.choice([400.0, 1e3, 2.5e3])
        return Radio(29.6e6, 37.0, {2: level}, tone=(tone, tone * rng.uniform(0.5, 4.0)))
    if kind == "speech-like":
        return Radio(29.6e6, 37.0, {2: level}, speech=10 ** rng.uniform(2.7, 3.5))
    half = 10 ** rng.uniform(3.7, 6.0)
    centre = 59.2e6 if kind == "noise-like on the harmonic" else rng.uniform(38e6, 52e6)
    return Radio(29.6e6, 37.0, humps=[(centre, half, level - 10 * math.log10(2 * half))])


@case("1 rates, {}", "24 random benches: {}, level 3 to 10 dB over or under the limit, RBW 1 to 100 kHz, points 0.3 to 0.5 RBW apart, "
      "rms, sample, log average or peak; "
      "a step and a close sweep beside", "no bench over complies, none under exceeds",
      over=["a line", "tone FM", "speech-like", "noise-like on the harmonic", "noise-like off the harmonics"])
def rates(w, kind):
    folder = w.folder(mask=mask(harmonics=2), necessary_bandwidth="60kHz")
    over = []
    for _ in range(BENCHES):
        over.append(w.rng.random() < 0.6)
        level = LIMIT + (1 if over[-1] else -1) * w.rng.uniform(3, 10)
        rbw = float(w.rng.choice([1e3, 3e3, 10e3, 30e3, 100e3]))
        detector, average, averages = READERS[w.rng.integers(len(READERS))]
        sweep = Sweep(29e6, 62e6, rbw, rbw * w.rng.uniform(0.3, 0.5), detector, average, averages)
        sweeps = [sweep, Sweep(28.6e6, 30.6e6, 1e3)]
        folder.radio(random_radio(w.rng, kind, level), sweeps, [(10, s) for s in sweeps])
    verdicts = [condition["verdict"] for condition in folder.judge()["radios"]]
    count = {(o, v): sum(a == o and b == v for a, b in zip(over, verdicts)) for o in (True, False) for v in set(verdicts)}
    n, m = sum(over), len(over) - sum(over)
    false_complies, false_exceeds = count.get((True, "complies"), 0), count.get((False, "exceeds"), 0)
    w.say(f"false complies {false_complies} of {n} (95 %: under {upper(false_complies, n):.2f}), false exceeds {false_exceeds} of {m} (under "
          f"{upper(false_exceeds, m):.2f}); "
          f"over and exceeds {count.get((True, 'exceeds'), 0)}, under and complies {count.get((False, 'complies'), 0)}")
    w.must(false_complies == 0, f"{false_complies} of {n} comply")
    w.must(false_exceeds == 0, f"{false_exceeds} of {m} exceed")
