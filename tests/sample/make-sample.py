#!/usr/bin/env python3
"""make-sample.py [FOLDER] - writes the raw exports of samples/raw (or FOLDER) from the truth in truth.json.

Deterministic: the same bytes every time. A test runs it into a fresh folder and compares.

A reading is |s + n|^2 behind a Gaussian filter: s the phasors of the lines that reach through it, n complex Gaussian noise, one draw for each
look. A point covers the bucket f -+ s/2 and has m = max(1, s / noise bandwidth) looks at it:
  peak    the greatest of m looks; a line is met at the place in the bucket that is nearest to it
  sample  one look, at the point itself
  rms     the mean of m looks (here m = 1), a line's power averaged over the bucket
The analyzer adds its own harmonics to the radio's, with a phase drawn once a sweep, and its phase noise to the noise. It is a little
better than its profile says (intercepts_better_db), as instruments are; otherwise it reads truly."""
import cmath
import json
import math
import os
import random
import sys

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from bench_values import Bench, at  # noqa: E402

HERE = os.path.dirname(os.path.abspath(__file__))
SAMPLES = os.path.join(HERE, '..', '..', 'samples')
GAUSS = 4 * math.log(2)  # the filter's power response is exp(-GAUSS (x/B)^2)
NBW_RATIO = math.sqrt(math.pi / GAUSS)
ORDERS = range(2, 16)


def ratio(db):
    return 10 ** (db / 10)


def db(power):
    return 10 * math.log10(power)


def lines_of(sweep, truth, bench, rng):
    """[(f, complex amplitude at the analyzer's input, sqrt mW)]: the radio's own lines, the analyzer's added to them."""
    f0, attenuation = sweep['fundamental_hz'], sweep['attenuation_db']
    levels = {f0: sweep['power_dbm']}
    for order in ORDERS:
        levels[order * f0] = sweep['harmonics_dbm'].get(str(order), truth['other_harmonics_dbm'])
    for f, level in sweep.get('spurs', {}).items():
        levels[float(f)] = level
    power_w = ratio(sweep['power_dbm'] - 30)
    mixer = sweep['power_dbm'] - bench.loss(f0, power_w) - at(bench.correction, f0) - attenuation
    lines = []
    for f, level in sorted(levels.items()):
        a = cmath.rect(math.sqrt(ratio(level - bench.loss(f, power_w) - at(bench.correction, f))), rng.random() * 2 * math.pi)
        order = round(f / f0)
        own = bench.own_harmonic(order, mixer, truth['intercepts_better_db']) if order > 1 and f == order * f0 else None
        if own is not None:
            a += cmath.rect(math.sqrt(ratio(own + attenuation)), rng.random() * 2 * math.pi)
        lines.append((f, a))
    return lines


def noise_power(sweep, bench, f):
    """Mean noise power at the input in the filter's noise bandwidth, mW."""
    spacing = (sweep['stop_hz'] - sweep['start_hz']) / (sweep['points'] - 1)
    width = 10 * math.log10(NBW_RATIO * sweep['rbw_hz'])
    f0 = sweep['fundamental_hz']
    offset = max(abs(f - f0), spacing / 4)
    carrier = sweep['power_dbm'] - bench.loss(f0) - at(bench.correction, f0)
    return ratio(at(bench.danl, f) + width + sweep['attenuation_db']) + ratio(carrier + at(bench.phase_noise, offset) + width)


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


def simulate(sweep, truth, bench):
    rng = random.Random(sweep['seed'])
    lines = lines_of(sweep, truth, bench, rng)
    n, start = sweep['points'], sweep['start_hz']
    spacing = (sweep['stop_hz'] - start) / (n - 1)
    looks = max(1.0, spacing / (NBW_RATIO * sweep['rbw_hz'])) if sweep['detector'] == 'peak' else 1.0
    reach = 8 * sweep['rbw_hz'] + spacing / 2
    out = []
    for i in range(n):
        f = start + i * spacing
        power = noise_power(sweep, bench, f)
        near = [line for line in lines if abs(line[0] - f) < reach]
        reading = abs(signal_at(sweep, near, f, spacing) + complex_noise(rng, power)) ** 2
        if looks > 1:  # the greatest of the bucket's other looks, drawn in one go
            u = rng.random() ** (1 / (looks - 1))
            reading = max(reading, -math.log(1 - u) * power)
        out.append((f, db(reading)))
    return out


# The layouts. None is a maker's: plain words, as a person would write them.

def comma_preamble(points, _):
    head = ['Note,6 m kit keyed into the course chain', 'Start frequency (MHz),10', 'Stop frequency (MHz),610', 'Resolution bandwidth (kHz),10',
            'Video bandwidth (kHz),30', 'Input attenuation (dB),20', 'Reference level (dBm),0', 'Detector,Positive peak', 'Sweep time (s),5.64',
            'Number of points,2001', '', 'Frequency (Hz),Level (dBm)']
    return '\n'.join(head + ['%.0f,%.2f' % p for p in points]) + '\n'


def semicolon_comma(points, _):
    head = ['Notiz;Tulvannick getastet', 'Startfrequenz;30,0 MHz', 'Stoppfrequenz;1530,0 MHz', 'Auflösungsbandbreite;10,0 kHz',
            'Videobandbreite;30,0 kHz', 'Eingangsdämpfung;20,0 dB', 'Referenzpegel;0,0 dBm', 'Detektor;Spitzenwert', 'Ablaufzeit;14,1 s',
            'Messpunkte;5001', '', 'Frequenz [MHz];Pegel [dBm]']
    rows = ['%.4f;%.2f' % (f / 1e6, level) for f, level in points]
    return '\ufeff' + '\r\n'.join(head + [row.replace('.', ',') for row in rows]) + '\r\n'


def tab_megahertz(points, _):
    head = ['Kit K3 keyed', 'RBW:\t10 kHz', 'VBW:\t30 kHz', 'Attenuation:\t20 dB', 'Reference level:\t0 dBm', 'Detector:\tpeak', 'Sweep time:\t15 s', '',
            'Frequency / MHz\tLevel / dBm']
    return '\n'.join(head + ['%.3f\t%.3f' % (f / 1e6, level) for f, level in points]) + '\n'


def levels_only(points, _):
    head = ['start = 10 MHz', 'stop = 1610 MHz', 'points = 1601', 'rbw = 1 MHz', 'vbw = 3 MHz', 'attenuation = 40 dB', 'reference level = 30 dBm',
            'detector = peak', 'sweep time = 20 ms', 'unit = dBm', '']
    return '\n'.join(head + ['%.2f' % level for _f, level in points]) + '\n'


def three_columns(first, others):
    head = ['Start,1000 kHz', 'Stop,151000 kHz', 'RBW,30 kHz', 'VBW,100 kHz', 'Attenuation,20 dB', 'Reference level,0 dBm', 'Detector,Sample',
            'Sweep time,1 s', 'Frequency (kHz),Sweep 1 (dBm),Sweep 2 (dBm),Sweep 3 (dBm)']
    rows = ['%.0f,' % (rows[0][0] / 1e3) + ','.join('%.2f' % level for _f, level in rows) for rows in zip(first, *others)]
    return '\n'.join(head + rows) + '\n'


def comma_microvolt(points, _):
    head = ['RBW,10 kHz', 'VBW,30 kHz', 'Attenuation,20 dB', 'Reference level,107 dBuV', 'Detector,Peak', 'Sweep time,13.6 s', '',
            'Frequency (MHz),Level (dBuV)']
    shift = 10 * math.log10(50 * 1e-3 / 1e-12)
    return '\n'.join(head + ['%.1f,%.2f' % (f / 1e6, level + shift) for f, level in points]) + '\n'


def bare_blanks(points, _):
    return '\n'.join('%10.0f  %8.3f' % p for p in points) + '\n'


FILES = {
    'zelbridor.csv': (comma_preamble, ['zelbridor']),
    'tulvannick.csv': (semicolon_comma, ['tulvannick']),
    'larquedon.txt': (tab_megahertz, ['larquedon']),
    'brundlow.dat': (levels_only, ['brundlow']),
    'vaskerry.csv': (three_columns, ['vaskerry-1', 'vaskerry-2', 'vaskerry-3']),
    'dornimel-2m.csv': (comma_microvolt, ['dornimel-2m']),
    'dornimel-70cm.dat': (bare_blanks, ['dornimel-70cm']),
}


def main():
    folder = sys.argv[1] if len(sys.argv) > 1 else os.path.join(SAMPLES, 'raw')
    with open(os.path.join(HERE, 'truth.json'), encoding='utf-8') as f:
        truth = json.load(f)
    bench = Bench(SAMPLES)
    os.makedirs(folder, exist_ok=True)
    for name, (layout, sweeps) in FILES.items():
        traces = [simulate(truth['sweeps'][sweep], truth, bench) for sweep in sweeps]
        with open(os.path.join(folder, name), 'wb') as f:
            f.write(layout(traces[0], traces[1:]).encode('utf-8'))


if __name__ == '__main__':
    main()
