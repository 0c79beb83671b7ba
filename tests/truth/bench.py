"""A radio, a chain and an analyzer with known truth, and the files that an evening with them leaves behind.

Written from the trade's definitions alone (it imports nothing of the program and copies none of its formulas):
- A tone-modulated carrier is its Bessel lines, J_k(n beta)^2 of the power k tones from n f0 (any text on FM); speech-like is a Gaussian density,
  n times as wide at the nth harmonic; noise-like is a flat density. Levels are at the socket, in dBm of the whole mean power.
- The filter is Gaussian, |H|^2 = exp(-4 ln 2 (df/B)^2), its noise bandwidth sqrt(pi/(4 ln 2)) = 1.0645 B.
- One look is |lines + complex Gaussian noise|^2: exponential where only noise is. Lines of one modulated signal keep their true phases, so the envelope
  of FM is steady in a wide filter and beats in a narrow one. A bucket of s holds max(1, s/B) looks.
- The mixer's nth product, n Pm - (n-1) In with Pm and In at the mixer, adds to the radio's nth harmonic in amplitude at a stated or random phase.
"""
import json
import math
import os
import subprocess

import numpy as np
from scipy.special import erf, jv

NBW = math.sqrt(math.pi / (4 * math.log(2)))
REACH = 4.2  # filter widths out to which a line is worked out: -212 dB there


def mw(dbm):
    return 10 ** (np.asarray(dbm, float) / 10)


def dbm(power_mw):
    return 10 * np.log10(np.maximum(power_mw, 1e-30))


class Radio:
    """`harmonics` {order: dBm}; `spurs` [(Hz, dBm)]; `humps` [(centre Hz, half width Hz, dBm/Hz)]; `tone` (tone Hz, deviation Hz) or `speech` sigma Hz
    (standard deviation of the Gaussian spectrum of the fundamental) modulates the carrier and, n-fold, its harmonics."""

    def __init__(self, f0, level, harmonics=None, spurs=(), humps=(), tone=None, speech=None):
        self.f0, self.level, self.tone, self.speech = f0, level, tone, speech
        self.harmonics, self.spurs, self.humps = dict(harmonics or {}), list(spurs), list(humps)


class Chain:
    """`loss` [(Hz, dB)], linear in dB over log f, ends held; `true_loss` where the truth is another one than what the file says."""

    def __init__(self, loss=((9e3, 40.0), (6e9, 40.0)), true_loss=None, stages=None, more=""):
        self.loss, self.true_loss, self.stages, self.more = list(loss), list(true_loss or loss), stages, more

    def at(self, f):
        hz, db = zip(*self.true_loss)
        return np.interp(np.log(np.maximum(f, 1.0)), np.log(hz), db)

    def text(self):
        if self.stages:
            return self.stages
        points = "; ".join(f"{hz:.0f} {db - 10:.3f} 0.03" for hz, db in self.loss)
        ten = "; ".join(f"{hz:.0f} 10 0.03" for hz, db in self.loss)
        return ("[chain]\nname=Two pads\nstages=great;small\ncalibrated=2026-09-12\ninterval_days=730\ntemperature_c=22\n"
                f"[stage great]\nkind=pad\nlabel_db=30\nrating_w=200\nvswr=1.05\npoints={points}\nconnector_u_db=0.02\npower_coefficient=0\n"
                f"temperature_coefficient=0\n[stage small]\nkind=pad\nlabel_db=10\nrating_w=2\nvswr=1.05\npoints={ten}\nconnector_u_db=0.02\n"
                f"power_coefficient=0\ntemperature_coefficient=0\n{self.more}")


class Analyzer:
    """`intercepts` {order: dBm at the mixer, true}; `stated`, `stated_danl`: what the profile says (else the true ones)."""

    def __init__(self, danl=-150.0, intercepts=None, stated=None, stated_danl=None,
                 phase_noise=((1e3, -110), (1e4, -120), (1e6, -150)), feedthrough=None, more=""):
        self.danl, self.phase_noise, self.more = danl, phase_noise, more
        self.stated_danl = stated_danl
        self.intercepts = {2: 90.0, 3: 60.0} if intercepts is None else dict(intercepts)
        self.stated, self.feedthrough = dict(stated if stated is not None else self.intercepts), feedthrough

    def product(self, order, at_mixer):
        """dBm at the mixer, or None."""
        return order * at_mixer - (order - 1) * self.intercepts[order] if order in self.intercepts else None

    def text(self):
        pairs = "; ".join(f"{hz:.0f} {db}" for hz, db in self.phase_noise)
        intercept = {2: "second_intercept_dbm", 3: "third_harmonic_intercept_dbm"}
        lines = [f"{intercept[n]}={self.stated[n]}" for n in (2, 3) if n in self.stated]
        higher = "; ".join(f"{n} {level}" for n, level in sorted(self.stated.items()) if n > 3)
        danl = self.danl if self.stated_danl is None else self.stated_danl
        return ("[analyzer]\nname=Shelf analyzer\ndamage_dbm=30\nbest_mixer_dbm=-10\n"
                f"danl_dbm_hz=9kHz {danl}; 6GHz {danl}\ndanl_average=power\nphase_noise_dbc_hz={pairs}\n"
                + "\n".join(lines) + ("\n" if lines else "") + (f"harmonic_intercepts_dbm={higher}\n" if higher else "")
                + "intercept_u_db=1\naccuracy_db=0.4\nflatness_db=0.3\nscale_db=0.1\nrepeatability_db=0.05\nattenuator_switch_db=0.2\n"
                "rbw_switch_db=0.1\nfrequency_ppm=0\nvswr=1.1\nattenuator_steps_db=0;5;10;15;20;25;30;35;40\n"
                f"rbw_steps=100Hz;300Hz;1kHz;3kHz;10kHz;30kHz;100kHz;300kHz;1MHz\npoints_max=100001\nfilter=gaussian\n{self.more}")


class Sweep:
    """`detector` sample rms peak negative average-log average-voltage average-power; `average` none power log voltage; `hold` max or min of `averages`.
    `say` overrides what the sheet is told of it (None: nothing is told)."""

    def __init__(self, start, stop, rbw, spacing=None, detector="rms", average="power", averages=16, hold=None, attenuation=10, reference=30, say=None):
        self.start, self.stop, self.rbw, self.spacing = start, stop, rbw, spacing or rbw / 2
        self.detector, self.average, self.averages, self.hold = detector, average, averages if average != "none" or hold else 1, hold
        self.attenuation, self.reference, self.say = attenuation, reference, say

    def but(self, **changes):
        new = Sweep.__new__(Sweep)
        new.__dict__.update(self.__dict__, **changes)
        return new

    def points(self):
        return self.start + self.spacing * np.arange(int(math.floor((self.stop - self.start) / self.spacing + 1e-9)) + 1)

    def options(self):
        if self.say is not None:
            return self.say
        kind = self.detector.split("-")[0]
        words = [f"detector={kind}", f"average={self.average}"]
        if kind == "average":
            words[1] = "average=" + self.detector.split("-")[1]
        return "&".join(words + ([f"averages={self.averages}"] if self.averages > 1 else []) + ([f"hold={self.hold}"] if self.hold else []))


def _signals(radio, chain, analyzer, attenuation, phases):
    """([(lines' Hz, amplitudes, k of each, tone or 0)], [(centre, sigma or None, half width or None, total mW or mW/Hz)]) at the analyzer's input."""
    lines, densities = [], []
    if radio is None:
        return lines, densities
    at_input = radio.level - float(chain.at(radio.f0))
    orders = sorted({1} | set(radio.harmonics) | {n for n in analyzer.intercepts if n > 1})
    for n in orders:
        own = radio.level if n == 1 else radio.harmonics.get(n)
        amplitude = 0j if own is None else math.sqrt(float(mw(own - float(chain.at(n * radio.f0))))) + 0j
        product = analyzer.product(n, at_input - attenuation) if n > 1 else None
        if product is not None:
            amplitude += math.sqrt(float(mw(product + attenuation))) * np.exp(1j * phases.get(n, 0.0))
        if not amplitude or abs(amplitude) ** 2 < 1e-25:
            continue
        if radio.tone:
            beta = n * radio.tone[1] / radio.tone[0]
            k = np.arange(-int(beta + 12), int(beta + 12) + 1)
            lines.append((n * radio.f0 + k * radio.tone[0], amplitude * jv(k, beta), k, radio.tone[0]))
        elif radio.speech:
            densities.append((n * radio.f0, n * radio.speech, None, abs(amplitude) ** 2))
        else:
            lines.append((np.array([n * radio.f0]), np.array([amplitude]), np.zeros(1, int), 0))
    for f, level in radio.spurs:
        lines.append((np.array([f]), np.array([math.sqrt(float(mw(level - chain.at(f)))) + 0j]), np.zeros(1, int), 0))
    for centre, half, density in radio.humps:
        densities.append((centre, None, half, float(mw(density - float(chain.at(centre))))))
    return lines, densities


def _noise(f, radio, chain, analyzer, sweep, densities):
    """Mean power of all that is noise in the filter at each f, mW at the input."""
    b = sweep.rbw
    power = np.full(len(f), float(mw(analyzer.danl + sweep.attenuation)) * NBW * b)
    for centre, sigma, half, amount in densities:
        if sigma:  # Gaussian through Gaussian: variances add
            filter_sigma = b / math.sqrt(8 * math.log(2))
            total = math.hypot(sigma, filter_sigma)
            power += amount * (filter_sigma / total) * np.exp(-0.5 * ((f - centre) / total) ** 2)
        else:
            scale = 2 * math.sqrt(math.log(2)) / b
            power += amount * NBW * b * 0.5 * (erf(scale * (f - centre + half)) - erf(scale * (f - centre - half)))
    if radio is not None:
        offset = np.maximum(np.abs(f - radio.f0), b / 2)
        hz, db = zip(*analyzer.phase_noise)
        power += mw(radio.level - float(chain.at(radio.f0)) + np.interp(np.log(offset), np.log(hz), db)) * NBW * b
    return power


class _Lines:
    """The lines' amplitudes at the looks of one offset inside the bucket, with the phases of a random moment at each call."""

    def __init__(self, f, groups, sweep, look, width):
        self.steady, self.n = sweep.detector in ("rms", "average-power"), len(f)
        self.parts = []
        b, s = sweep.rbw, sweep.spacing
        for hz, amplitude, k, tone in groups:
            for line, a, index in zip(hz, amplitude, k):
                low = max(0, int((line - REACH * b - s - f[0]) / s))
                high = min(len(f), int((line + REACH * b + s - f[0]) / s) + 2)
                if high <= low or abs(a) ** 2 < 1e-26:
                    continue
                away = f[low:high] + look - line
                if sweep.detector == "peak":
                    away = np.maximum(np.abs(away) - width / 2, 0)
                elif sweep.detector == "negative":
                    away = np.abs(away) + width / 2
                if self.steady:  # mean power over the piece of the bucket
                    shifts = (np.arange(5) + 0.5) / 5 - 0.5
                    gain = np.sqrt(np.mean([np.exp(-4 * math.log(2) * ((away + shift * width) / b) ** 2) for shift in shifts], axis=0))
                else:
                    gain = np.exp(-2 * math.log(2) * (away / b) ** 2)
                self.parts.append((low, high, a * gain, index if tone else 0))

    def draw(self, rng):
        if self.steady:
            power = np.zeros(self.n)
            for low, high, a, _ in self.parts:
                power[low:high] += np.abs(a) ** 2
            return np.sqrt(power)
        total = np.zeros(self.n, complex)
        moment = {}
        for low, high, a, index in self.parts:
            if index:
                if "t" not in moment:
                    moment["t"] = rng.uniform(0, 2 * math.pi, self.n)
                a = a * np.exp(1j * index * moment["t"][low:high])
            total[low:high] += a
        return total


_IN = {"power": lambda p: p, "log": lambda p: np.log(p), "voltage": np.sqrt}
_OUT = {"power": lambda p: p, "log": np.exp, "voltage": np.square}


def sweep_of(radio, chain, analyzer, sweep, rng, phases=None, air=()):
    """(Hz, dBm at the input): what the analyzer shows. `phases` {order: rad} of its products, drawn where not given; `air` [(Hz, dBm at the input)]."""
    if phases is None:
        phases = {n: rng.uniform(0, 2 * math.pi) for n in range(2, 20)}
    groups, densities = _signals(radio, chain, analyzer, sweep.attenuation, phases)
    groups += [(np.array([f]), np.array([math.sqrt(float(mw(level))) + 0j]), np.zeros(1, int), 0) for f, level in air]
    if analyzer.feedthrough is not None:
        groups.append((np.zeros(1), np.array([math.sqrt(float(mw(analyzer.feedthrough))) + 0j]), np.zeros(1, int), 0))
    f = sweep.points()
    pieces = 1 if sweep.detector == "sample" else max(1, round(sweep.spacing / sweep.rbw))
    width = 0 if sweep.detector == "sample" else sweep.spacing / pieces
    noise = np.sqrt(_noise(f, radio, chain, analyzer, sweep, densities) / 2)
    looks = [_Lines(f, groups, sweep, ((j + 0.5) / pieces - 0.5) * sweep.spacing, width) for j in range(pieces)]
    kind = sweep.detector.split("-")[-1]
    shown = None
    for _ in range(sweep.averages):
        bucket = None
        for look in looks:
            a = look.draw(rng)
            power = (a.real + noise * rng.standard_normal(len(f))) ** 2 + (a.imag + noise * rng.standard_normal(len(f))) ** 2
            if kind == "peak":
                bucket = power if bucket is None else np.maximum(bucket, power)
            elif kind == "negative":
                bucket = power if bucket is None else np.minimum(bucket, power)
            else:
                power = _IN.get(kind, _IN["power"])(power)
                bucket = power if bucket is None else bucket + power
        if kind not in ("peak", "negative"):
            bucket = _OUT.get(kind, _OUT["power"])(bucket / pieces)
        if sweep.hold:
            shown = bucket if shown is None else (np.maximum if sweep.hold == "max" else np.minimum)(shown, bucket)
        else:
            bucket = _IN.get(sweep.average, _IN["power"])(bucket)
            shown = bucket if shown is None else shown + bucket
    if not sweep.hold:
        shown = _OUT.get(sweep.average, _OUT["power"])(shown / sweep.averages)
    return f, dbm(shown)


def export(path, f, level, sweep, preamble="", digits=2, top=None):
    """A plain comma-separated export: a preamble, then frequency and level. `top` clips readings there, as a display does."""
    if top is not None:
        level = np.minimum(level, top)
    head = (f"RBW (Hz),{sweep.rbw:g}\nAttenuation (dB),{sweep.attenuation:g}\nReference level (dBm),{sweep.reference:g}\n{preamble}"
            "Frequency (Hz),Level (dBm)\n")
    with open(path, "w", encoding="utf-8") as file:
        file.write(head)
        file.write("\n".join([f"{hz:.1f},{shown:.{digits}f}" for hz, shown in zip(f.tolist(), level.tolist())]))
        file.write("\n")


class Folder:
    """A folder of one evening: chain, analyzer, mask, sheet and exports. `keyed(...)` writes a sweep and gives the name a sheet uses."""

    def __init__(self, path, batch, rng, chain=None, analyzer=None, mask="us-amateur", **bench):
        self.path, self.batch, self.rng = path, batch, rng
        os.makedirs(path, exist_ok=True)
        self.chain, self.analyzer = chain or Chain(), analyzer or Analyzer()
        self.conditions, self.count = [], 0
        if "\n" in mask:
            self.write("own.mask", mask)
            mask = "own.mask"
        self.bench = {"title": "An evening", "date": "2026-10-03", "chain": "bench.chain", "analyzer": "bench.analyzer", "mask": mask,
                      "temperature_c": "22", "necessary_bandwidth": "16kHz", "radio_vswr": "1.05", "radio_harmonic_vswr": "1.05", **bench}

    def write(self, name, text):
        with open(os.path.join(self.path, name), "w", encoding="utf-8") as file:
            file.write(text)
        return name

    def sweep(self, radio, sweep, phases=None, air=(), top=None, preamble="", digits=2, name=None):
        self.count += 1
        name = name or f"sweep-{self.count:03}.csv"
        f, level = sweep_of(radio, self.chain, self.analyzer, sweep, self.rng, phases, air)
        export(os.path.join(self.path, name), f, level, sweep, preamble, digits, top)
        return name + ("?" + sweep.options() if sweep.options() else "")

    def radio(self, radio, sweeps, steps=(), name=None, phases=None, **keys):
        """One condition of `radio`: keyed sweeps (Sweep, or a name already written), and step sweeps (dB, Sweep or name) beside them."""
        if phases is None:
            phases = {n: self.rng.uniform(0, 2 * math.pi) for n in range(2, 20)}
        keyed = [s if isinstance(s, str) else self.sweep(radio, s, phases) for s in sweeps]
        step = [f"{s if isinstance(s, str) else self.sweep(radio, s.but(attenuation=s.attenuation + db), phases)} {db:g}" for db, s in steps]
        entry = {"fundamental": f"{radio.f0:.0f}", "rated_w": f"{float(mw(radio.level)) / 1000:.6g}", **keys}
        if keyed:
            entry["keyed"] = ";".join(keyed)
        if step:
            entry["step"] = "; ".join(step)
        self.conditions.append((name or f"Radio{len(self.conditions) + 1:02}", {k: v for k, v in entry.items() if v is not None}))
        return self

    def files(self, sheet="bench.sheet"):
        self.write("bench.chain", self.chain.text())
        self.write("bench.analyzer", self.analyzer.text())
        text = "[bench]\n" + "".join(f"{k}={v}\n" for k, v in self.bench.items() if v is not None)
        for name, keys in self.conditions:
            text += f"\n[radio {name}]\n" + "".join(f"{k}={v}\n" for k, v in keys.items())
        self.write(sheet, text)
        return sheet

    def run(self, *words):
        done = subprocess.run([self.batch, *words], capture_output=True, cwd=self.path, env=dict(os.environ, LC_ALL="C.UTF-8"), timeout=1800, check=False)
        if done.returncode != 0:
            raise RuntimeError(f"{' '.join(words)}: exit {done.returncode}: {done.stderr.decode()[:400]}")
        return done.stdout.decode()

    def load(self, *words):
        return json.loads(self.run(*words, "--json"))

    def judge(self, *words):
        return self.load("judge", self.files(), *words)


def covers(gaps, low, high):
    """Do the gaps together cover all of [low, high]?"""
    at = low
    for gap in sorted(gaps, key=lambda g: g["from_hz"]):
        if gap["from_hz"] <= at * (1 + 1e-9) + 1:
            at = max(at, gap["to_hz"])
    return at >= high * (1 - 1e-9) - 1


def touches(gaps, f):
    return any(gap["from_hz"] <= f <= gap["to_hz"] for gap in gaps)


def harmonic(condition, order):
    return next((e for e in condition["emissions"] if e["order"] == order), None)


def near(condition, f, within):
    return [e for e in condition["emissions"] if abs(e["frequency_hz"] - f) <= within and (e["detected"] or e["level_dbm"] is not None)]
