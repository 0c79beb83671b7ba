"""Beside the carrier: which stretches each sweep sees, by R16 of expected.md, and what all of a condition's leave open.

Naive and apart from the program: a point that lies within the carrier's reach is blind with its whole bucket; what a sweep's floor leaves unseen
further out is worked out from the profile alone."""
import json
import math
import os
import tempfile

from bench_values import Bench, at
from checking import SAMPLES, check, near, run, same
from receiver import NBW_RATIO, db, ratio, spacing_of

STATED = 2e-5  # a stated frequency is known to so much of itself


def hidden(sweep, f0, exclude_hz):
    """[from, to] round the carrier that the sweep cannot see; by whole buckets, and never less than the mask leaves out."""
    s, rbw = spacing_of(sweep), sweep['rbw_hz']
    reach = max(3 * rbw, max(s, rbw) + min(s / 2, STATED * f0))
    points = [sweep['start_hz'] + i * s for i in range(sweep['points'])]
    blind = [f for f in points if abs(f - f0) <= reach * (1 + 1e-9)]
    return min(blind[0] - s / 2, f0 - exclude_hz), max(blind[-1] + s / 2, f0 + exclude_hz)


def detection_db(sweep):
    """R3 and R4 for the whole sweep."""
    s, rbw = spacing_of(sweep), sweep['rbw_hz']
    looks = max(1, s / (NBW_RATIO * rbw)) if sweep['detector'] == 'peak' else 1
    root = math.sqrt(math.log(looks * sweep['points'] / 0.01005))
    amplitude = root + 1.35
    for _ in range(2):
        amplitude = root + 1.411 - 1 / (4 * amplitude)
    return 20 * math.log10(amplitude) + (12.04 * (s / (2 * rbw)) ** 2 if sweep['detector'] == 'sample' else 0)


def noise_dbm(sweep, bench, f0, power_dbm, offset_hz):
    """Phase noise and the analyzer's own, at the socket."""
    f, width = f0 + offset_hz, 10 * math.log10(NBW_RATIO * sweep['rbw_hz'])
    own = at(bench.danl, f) + width + sweep['attenuation_db'] + bench.loss(f) + at(bench.correction, f)
    return db(ratio(own) + ratio(power_dbm + at(bench.phase_noise, offset_hz) + width))


def left_open(sweeps, f0, exclude_hz):
    """What none of them sees of the reach of the first, the widest, on either side of what is excluded."""
    low, high = hidden(sweeps[0], f0, exclude_hz)
    cuts = {low, high, f0 - exclude_hz, f0 + exclude_hz}
    reaches = []
    for sweep in sweeps:
        s = spacing_of(sweep)
        span = (sweep['start_hz'] - s / 2, sweep['stop_hz'] + s / 2)
        reaches.append((span, hidden(sweep, f0, exclude_hz)))
        cuts |= {edge for pair in reaches[-1] for edge in pair if low <= edge <= high}
    gaps, cuts = [], sorted(cuts)
    for a, b in zip(cuts, cuts[1:]):
        middle = (a + b) / 2
        seen = abs(middle - f0) < exclude_hz or any(span[0] <= middle <= span[1] and not blind[0] < middle < blind[1] for span, blind in reaches)
        if not seen and gaps and abs(gaps[-1][1] - a) < 1e-3:
            gaps[-1][1] = b
        elif not seen:
            gaps.append([a, b])
    return gaps


def check_stretches(rows, sweeps, benches):
    """The page's table `beside the carrier`: [condition, sweep, RBW, s, hidden from, to, at kHz, L, N, L_D, floor, U, in hand]."""
    for row in rows:
        where, sweep, bench = '%s, %s, beside the carrier: ' % (row[0], row[1]), sweeps[row[1]], benches[row[1]]
        f0, power, exclude, limit = sweep['f0'], sweep['power'], sweep['exclude'], sweep['limit']
        low, high = hidden(sweep, f0, exclude)
        near(where + 'RBW', sweep['rbw_hz'] / 1e3, float(row[2]), 1e-9)
        near(where + 'spacing', spacing_of(sweep) / 1e3, float(row[3]), 1e-9)
        near(where + 'hidden from', low / 1e6, float(row[4]), 6e-6)
        near(where + 'hidden to', high / 1e6, float(row[5]), 6e-6)
        if row[6] == '-':
            continue
        offset = float(row[6]) * 1e3
        n, limit_db = noise_dbm(sweep, bench, f0, power, offset), detection_db(sweep)
        near(where + 'phase noise', at(bench.phase_noise, offset), float(row[7]), 0.02)
        near(where + 'noise', n, float(row[8]), 0.02)
        near(where + 'detection limit', limit_db, float(row[9]), 0.02)
        near(where + 'floor', n + limit_db, float(row[10]), 0.03)
        near(where + 'in hand', limit - n - limit_db - float(row[11]), float(row[12]), 0.04)


def rings(radio):
    return [[g['from_hz'], g['to_hz']] for g in radio['gaps'] if g['why'] == 'too-wide']


def check_gaps(name, wanted, got):
    same(name + ': gaps beside the carrier', len(got), len(wanted))
    for (a, b), (c, d) in zip(wanted, got):
        near(name + ': gap from', c / 1e6, a / 1e6, 6e-6)
        near(name + ': gap to', d / 1e6, b / 1e6, 6e-6)


def check_left_open(rows, keyed, sweeps, radios):
    """Page against recipe, program against page."""
    page = {}
    for row in rows:
        page.setdefault(row[0], []).append([float(row[1]) * 1e6, float(row[2]) * 1e6] if row[1] != '-' else None)
    same('beside the carrier: conditions', sorted(page), sorted(keyed))
    for name, found in page.items():
        wanted = [pair for pair in found if pair]
        own = [sweeps[s] for s in keyed[name]]
        check_gaps(name + ', by R16', wanted, left_open(own, own[0]['f0'], own[0]['exclude']))
        check_gaps(name, wanted, rings(radios[name]))


def judged_otherwise(sheet, name, gone=(), exports=None):
    """The condition as the same bench shows it without some of the files, or with others in their place {name: bytes}."""
    with open(os.path.join(SAMPLES, sheet), encoding='utf-8') as f:
        text = f.read()
    for file in gone:
        check(name + ' uses ' + file, ';raw/' + file in text)
        text = text.replace(';raw/' + file, '')
    with tempfile.TemporaryDirectory() as folder:
        os.mkdir(os.path.join(folder, 'raw'))
        for entry in os.listdir(SAMPLES) + [os.path.join('raw', file) for file in os.listdir(os.path.join(SAMPLES, 'raw'))]:
            if entry not in (sheet, 'raw') and os.path.basename(entry) not in (exports or {}):
                os.symlink(os.path.abspath(os.path.join(SAMPLES, entry)), os.path.join(folder, entry))
        for entry, content in [(sheet, text.encode('utf-8'))] + [(os.path.join('raw', file), content) for file, content in (exports or {}).items()]:
            with open(os.path.join(folder, entry), 'wb') as f:
                f.write(content)
        said = run('judge', os.path.join(folder, sheet), '--json')
    return next((r for r in said['radios'] if r['name'] == name), None) if said else None


def check_without(sheet, name, gone, keyed, sweeps):
    """The ring is as open as the sweeps that are left leave it, and nothing complies."""
    radio = judged_otherwise(sheet, name, gone)
    where, left = '%s without %s' % (name, ' '.join(gone)), [sweeps[s] for s in keyed[name] if s not in [file.rsplit('.', 1)[0] for file in gone]]
    same(where, radio and radio['verdict'], 'not proven')
    check_gaps(where, left_open(left, left[0]['f0'], left[0]['exclude']), rings(radio) if radio else [])


def load(truth_name):
    with open(os.path.join(os.path.dirname(os.path.abspath(__file__)), truth_name), encoding='utf-8') as f:
        return json.load(f)


def bench_of(chain, analyzer):
    return Bench(SAMPLES, chain, analyzer)
