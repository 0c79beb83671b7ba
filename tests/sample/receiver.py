"""What an analyzer makes of lines and noise: filter, detector, one reading for each point.

A reading is |s + n|^2 behind a Gaussian filter: s the phasors of the lines that reach through it, n complex Gaussian noise, one draw for each
look. A point covers the bucket f -+ s/2 and has m = max(1, s / noise bandwidth) looks at it:
  peak    the greatest of m looks; a line is met at the place in the bucket that is nearest to it
  sample  one look, at the point itself
  rms     the mean of m looks (here m = 1), a line's power averaged over the bucket"""
import cmath
import math

from bench_values import at

GAUSS = 4 * math.log(2)  # the filter's power response is exp(-GAUSS (x/B)^2)
NBW_RATIO = math.sqrt(math.pi / GAUSS)


def ratio(db):
    return 10 ** (db / 10)


def db(power):
    return 10 * math.log10(power)


def spacing_of(sweep):
    return (sweep['stop_hz'] - sweep['start_hz']) / (sweep['points'] - 1)


def noise_power(sweep, bench, f, f0, carrier_dbm):
    """Mean noise power at the input in the filter's noise bandwidth, mW; carrier_dbm is the carrier's at the input, None: there is none."""
    width = 10 * math.log10(NBW_RATIO * sweep['rbw_hz'])
    power = ratio(at(bench.danl, f) + width + sweep['attenuation_db'])
    if carrier_dbm is None:
        return power
    offset = max(abs(f - f0), spacing_of(sweep) / 4)
    return power + ratio(carrier_dbm + at(bench.phase_noise, offset) + width)


def complex_noise(rng, power):
    """Box and Muller's way, so that only rng.random() is asked of the library."""
    return cmath.rect(math.sqrt(-math.log(1 - rng.random()) * power), rng.random() * 2 * math.pi)


def signal_at(sweep, near, f, spacing):
    """Sum of phasors that a point at f sees of the lines near it."""
    b, kind, total = sweep['rbw_hz'], sweep['detector'], 0j
    for line_f, a in near:
        x = abs(line_f - f)
        if kind == 'peak':
            gain = math.exp(-GAUSS * (max(0.0, x - spacing / 2) / b) ** 2)
        elif kind == 'sample':
            gain = math.exp(-GAUSS * (x / b) ** 2)
        else:
            k = math.sqrt(GAUSS) / b
            gain = math.sqrt(math.pi) / (2 * k * spacing) * (math.erf(k * (x + spacing / 2)) - math.erf(k * (x - spacing / 2)))
        total += a * math.sqrt(gain)
    return total


def receive(sweep, bench, rng, lines, f0, carrier_dbm):
    """[(f, dBm at the input)] of lines [(f, complex amplitude at the input, sqrt mW)]."""
    spacing = spacing_of(sweep)
    looks = max(1.0, spacing / (NBW_RATIO * sweep['rbw_hz'])) if sweep['detector'] == 'peak' else 1.0
    reach = 8 * sweep['rbw_hz'] + spacing / 2
    out = []
    for i in range(sweep['points']):
        f = sweep['start_hz'] + i * spacing
        power = noise_power(sweep, bench, f, f0, carrier_dbm)
        near = [line for line in lines if abs(line[0] - f) < reach]
        reading = abs(signal_at(sweep, near, f, spacing) + complex_noise(rng, power)) ** 2
        if looks > 1:  # the greatest of the bucket's other looks, drawn in one go
            u = rng.random() ** (1 / (looks - 1))
            reading = max(reading, -math.log(1 - u) * power)
        out.append((f, db(reading)))
    return out
