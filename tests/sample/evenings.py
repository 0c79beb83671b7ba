"""The two evenings: which lines stand at the analyzer's input, from the stated truths.

club (truth.json): the radio's harmonics and the analyzer's own add with a phase drawn once a sweep.
pocket (truth-pocket.json): with a phase that is stated and stays as the attenuator steps, and the analyzer compresses: the mixer is a
memoryless polynomial, its product of order n n Pm - (n - 1) In, its carrier lower by three times the amplitude of its own third harmonic.

Both analyzers are a little better than their profiles say, as instruments are; otherwise they read truly."""
import cmath
import math
import random

from bench_values import Bench, at
from receiver import ratio, receive

ORDERS = range(2, 16)


def club_lines(sweep, truth, bench, rng):
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


def club_trace(truth, name, samples):
    sweep, bench = truth['sweeps'][name], Bench(samples, 'club.chain', 'club.analyzer')
    rng = random.Random(sweep['seed'])
    lines, f0 = club_lines(sweep, truth, bench, rng), sweep['fundamental_hz']
    return receive(sweep, bench, rng, lines, f0, sweep['power_dbm'] - bench.loss(f0) - at(bench.correction, f0))


def pocket_lines(sweep, truth, bench):
    lines = [(truth['air'][name][0], complex(math.sqrt(ratio(truth['air'][name][1])))) for name in sweep['air']]
    if 'radio' not in sweep:
        return lines
    radio, own = truth['radios'][sweep['radio']], truth['analyzers'][sweep['analyzer']]
    f0, p, attenuation = radio['fundamental_hz'], radio['power_dbm'], sweep['attenuation_db']
    power_w = ratio(p - 30)
    at_input = {order: -bench.loss(order * f0, power_w) - at(bench.correction, order * f0) for order in [1, *ORDERS]}
    mixer = p + at_input[1] - attenuation
    shrinks = 1 - 3 * 10 ** ((mixer - own['intercepts_dbm']['3']) / 10) if own['compresses'] else 1
    lines.append((f0, complex(math.sqrt(ratio(p + at_input[1])) * shrinks)))
    for order in ORDERS:
        a = 0j
        if str(order) in radio['harmonics']:
            level, degrees = radio['harmonics'][str(order)]
            a += cmath.rect(math.sqrt(ratio(level + at_input[order])), math.radians(degrees))
        if str(order) in own['intercepts_dbm']:
            product = order * mixer - (order - 1) * own['intercepts_dbm'][str(order)]
            a += math.sqrt(ratio(product + attenuation))
        if a:
            lines.append((order * f0, a))
    return lines


def pocket_sweep(truth, name):
    """Its settings, with what all of the evening's sweeps share."""
    return {**truth['wide'], **truth['sweeps'][name]}


def pocket_trace(truth, name, samples):
    sweep = pocket_sweep(truth, name)
    bench = Bench(samples, sweep['chain'], truth['analyzers'][sweep['analyzer']]['file'])
    lines = pocket_lines(sweep, truth, bench)
    if 'radio' not in sweep:
        return receive(sweep, bench, random.Random(sweep['seed']), lines, None, None)
    radio = truth['radios'][sweep['radio']]
    f0 = radio['fundamental_hz']
    return receive(sweep, bench, random.Random(sweep['seed']), lines, f0, radio['power_dbm'] - bench.loss(f0) - at(bench.correction, f0))
