"""Point 0: the bench itself against what any text gives, so that a wrong simulator is not taken for a wrong program."""
import math

import numpy as np

from bench import NBW, Analyzer, Chain, Radio, Sweep, mw, sweep_of
from cases import case, number

CLEAN = Analyzer(danl=-190.0, intercepts={}, phase_noise=((1e3, -200), (1e6, -200)))


def summed(w, radio, rbw, low, high, apart=0.25, detector="rms"):
    """Power of a band by integration with the filter's noise bandwidth, dBm at the socket."""
    sweep = Sweep(low, high, rbw, apart * rbw, detector, "power", 100)
    _, level = sweep_of(radio, Chain(), CLEAN, sweep, w.rng, {})
    return 10 * math.log10(np.sum(mw(level)) * apart / NBW) + 40.0


@case("0 power of modulated signals, RBW {:g} Hz", "By Bessel lines: their squares sum to 1; densities: by definition. 37.00 dBm as FM (1 kHz, 5 kHz), its 3rd "
      "harmonic -12.00, speech-like 37.00, a hump of -50 dBm/Hz 200 kHz wide (3.01 dBm); RBW {:g} Hz",
      "integrated: each within 0.05 dB (FM) or 0.3 dB (noise-like)", over=[300, 3e3, 30e3])
def power(w, rbw):
    margin = 30e3 + 5 * rbw
    fm = summed(w, Radio(50e6, 37.0, {3: -12.0}, tone=(1e3, 5e3)), rbw, 50e6 - margin, 50e6 + margin)
    third = summed(w, Radio(50e6, 37.0, {3: -12.0}, tone=(1e3, 5e3)), rbw, 150e6 - margin, 150e6 + margin)
    speech = summed(w, Radio(50e6, 37.0, speech=2e3), rbw, 50e6 - margin, 50e6 + margin)
    hump = summed(w, Radio(50e6, -100.0, humps=[(80e6, 100e3, -50.0)]), rbw, 80e6 - 100e3 - margin, 80e6 + 100e3 + margin)
    w.say(f"FM {number(fm)}, 3rd {number(third)}, speech-like {number(speech)}, hump {number(hump)}")
    w.must(abs(fm - 37.0) < 0.05 and abs(third + 12.0) < 0.05, "FM")
    w.must(abs(speech - 37.0) < 0.4 and abs(hump - 3.01) < 0.3, "noise-like")


# Gaussian noise through each law against its power: logarithm -2.51 dB (Euler's constant), voltage -1.05 dB (pi/4), greatest of n looks 1 + 1/2 + ... + 1/n.
NOISE = [("sample", "power", 16, None, 0.5, 0.0), ("sample", "log", 400, None, 0.5, -2.507), ("sample", "voltage", 400, None, 0.5, -1.049), ("rms", "none", 1,
       None, 4.0, 0.0),
         ("peak", "power", 16, None, 4.0, 10 * math.log10(25 / 12)), ("sample", "none", 4, "max", 0.5, 10 * math.log10(25 / 12)), ("sample", "none", 4, "min",
                0.5, -6.021)]


@case("0 noise through {0[0]}, {0[1]}, {0[2]}, {0[3]}", "By Euler's constant, pi/4, harmonic numbers. Gaussian noise of -150 dBm/Hz, 10 dB in: -99.73 dBm in 10 "
      "kHz; detector, average, sweeps, hold: {0[0]}, {0[1]}, {0[2]}, {0[3]}",
      "mean power {0[5]:+.2f} dB against its own within 0.1 dB", over=NOISE)
def noise(w, law):
    detector, average, averages, hold, apart, expected = law
    _, level = sweep_of(None, Chain(), Analyzer(), Sweep(100e6, 200e6, 10e3, apart * 10e3, detector, average, averages, hold), w.rng)
    got = 10 * math.log10(np.mean(mw(level))) - (-140 + 10 * math.log10(NBW * 10e3))
    w.say(f"{got:+.3f} dB")
    w.must(abs(got - expected) < 0.1, f"not {expected:+.2f}")


@case("0 lines between points", "By Gaussian filter, 12.04 (df/B)^2 dB. a line of -20 dBm, midway between points 1 RBW apart: sample reads 3.01 dB low, peak 0 "
      "dB; at a point 0 dB", "within 0.02 dB")
def between(w):
    radio = Radio(50e6, -200.0, spurs=[(100e6 + 5e3, 20.0)])
    got = []
    for detector, start in (("sample", 99e6), ("peak", 99e6), ("sample", 99e6 + 5e3)):
        _, level = sweep_of(radio, Chain(), CLEAN, Sweep(start, 101e6, 10e3, 10e3, detector, "none", 1), w.rng)
        got.append(float(np.max(level)) + 40 - 20)
    w.say(", ".join(f"{x:+.3f}" for x in got))
    w.must(abs(got[0] + 3.01) < 0.02 and abs(got[1]) < 0.02 and abs(got[2]) < 0.02, "not -3.01, 0, 0")


@case("0 the mixer's product", "By slopes of harmonic distortion: n Pm - (n-1) In. 37 dBm through 40 dB, 10 dB in (mixer -13 dBm), I2 40: product -66 at the "
      "mixer, -16 at the socket; with a radio's own of -16 in phase, +6.02; against it, gone",
      "-16.00, -9.98, under -60")
def product(w):
    got = []
    analyzer = Analyzer(danl=-190.0, intercepts={2: 40.0}, phase_noise=((1e3, -200), (1e6, -200)))
    for own, phase in ((None, 0.0), (-16.0, 0.0), (-16.0, math.pi)):
        _, level = sweep_of(Radio(50e6, 37.0, {} if own is None else {2: own}), Chain(), analyzer, Sweep(99e6, 101e6, 10e3, 1e3, "sample", "none", 1), w.rng,
              {2: phase})
        got.append(float(np.max(level)) + 40)
    w.say(", ".join(number(x) for x in got))
    w.must(abs(got[0] + 16) < 0.02 and abs(got[1] + 9.98) < 0.02 and got[2] < -60, "not -16, -9.98, gone")
