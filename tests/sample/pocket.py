"""The lent analyzer's evening: samples/pocket.sheet against samples/expected-pocket.md, the evidence too."""
import json
import os
import re

import evenings
import layouts
import ring
from checking import SAMPLES, UNWANTED, check, check_chain, check_condition, check_reading, near, number, run, same, tables, talk

HERE = os.path.dirname(os.path.abspath(__file__))
# Besides the unwanted ones, what steps, unkeyed and notched sweeps may say: each condition says exactly what the page's table names.
TOLD = UNWANTED | {'compression', 'sweeps-disagree', 'worse-than-profile', 'steps-contradict', 'step-unknown', 'unkeyed-span', 'unkeyed-floor',
                   'sweep-not-used', 'noise-rises', 'odd-raster'}
NO_ATTENUATION = {'tamsary.csv': ('attenuation_db',)}  # the sheet's options say it


def check_exports_read():
    with open(os.path.join(HERE, 'truth-pocket.json'), encoding='utf-8') as f:
        truth = json.load(f)
    truths = {name: [evenings.pocket_sweep(truth, key) for key in keys] for name, (_layout, keys) in layouts.POCKET.items()}
    check_reading(sorted(truths), truths, NO_ATTENUATION)


def check_headroom():
    said = run('headroom', os.path.join(SAMPLES, 'pocket.sheet'), '--radio', 'Fennimarch', '--chain', os.path.join(SAMPLES, 'stub.chain'),
               '--power', '36.99dBm', '--fundamental', '145.5MHz', '--json')
    if not said:
        return
    nodes = {node['name']: node for node in said['nodes']}
    same('the stub: safe', said['safe'], True)
    near('the stub: into the brick', nodes['brick']['level_dbm'], 36.79, 0.01)
    near('the stub: into it', nodes['stub']['level_dbm'], 6.70, 0.06)
    near('the stub: into the analyzer', nodes['analyzer']['level_dbm'], -27.6, 0.1)
    near('the stub: what the radio sees of it', said['notch_return_loss_db'], 60.6, 0.1)
    worst = min(said['faults'], key=lambda fault: fault['headroom_db'])
    near('the stub: worst single fault', worst['headroom_db'], -6.79, 0.02)
    same('the stub: what it hits', worst['worst_node'], 'stub')


def emission(radios, condition, where):
    """The emission of a condition by its order, or by the frequency in MHz."""
    found = [e for e in radios[condition]['emissions'] if (e['order'] == where if isinstance(where, int) else abs(e['frequency_hz'] - where * 1e6) < 1)]
    check('%s: emission %s' % (condition, where), len(found) == 1, '%d of them' % len(found))
    return found[0] if found else None


def check_step_readings(rows, radios):
    for row in rows:
        e = emission(radios, row[0], int(row[1]))
        points = e['evidence'].get('readings', []) if e and e['evidence'] else []
        where = '%s, %s, reading %s: ' % (row[0], row[1], row[2])
        check(where + 'is there', int(row[2]) < len(points))
        if int(row[2]) >= len(points):
            continue
        point = points[int(row[2])]
        near(where + 'attenuation', point['attenuation_db'], float(row[3]), 1e-6)
        same(where + 'seen', point['seen'], row[4] == 'yes')
        near(where + 'level', point['level_dbm'], float(row[5]), float(row[6]))
        near(where + "the analyzer's own moves", point['own_db'], float(row[7]), 1e-6)
        check(where + 'inside the fitted band', point['fit_low_dbm'] <= point['fit_dbm'] <= point['fit_high_dbm'])
    same('readings in all', sum(len(e['evidence'].get('readings', [])) for r in radios.values() for e in r['emissions'] if e['order'] and e['evidence']),
         len(rows))


def check_parts(rows, radios):
    for row in rows:
        e = emission(radios, row[0], int(row[1]))
        if not e or not e['evidence']:
            continue
        where, truth, lowest, highest = '%s, %s: ' % (row[0], row[1]), float(row[2]), number(row[3]), float(row[4])
        low, high = e['radio_part_low_dbm'], e['radio_part_high_dbm']
        if lowest is None:
            same(where + "the radio's part begins at nothing", low, None)
        else:
            check(where + "lower end of the radio's part", low is not None and lowest <= low <= truth, '%s in %g .. %g' % (low, lowest, truth))
        check(where + "upper end of the radio's part", truth <= high <= highest, '%g in %g .. %g' % (high, truth, highest))
        same(where + 'readings agree', e['evidence']['contradicts'], False)


def check_air(rows, shallow, radios):
    for row in rows:
        e = emission(radios, row[0], float(row[1]))
        if not e:
            continue
        where = '%s at %s MHz, unkeyed: ' % (row[0], row[1])
        same(where + 'seen', [e['evidence']['ambient_seen'], e['evidence']['ambient_known']], [True, True])
        near(where + 'level', e['evidence']['ambient_dbm'], float(row[2]), float(row[3]))
        same(where + "the radio's part begins at nothing", e['radio_part_low_dbm'], None)
        near(where + "the radio's part ends", e['radio_part_high_dbm'], float(row[4]), float(row[3]))
    for name, radio in radios.items():
        for e in radio['emissions']:
            if e['detected'] and e['origin'] != 'ambient':
                deep = [name, str(e['order'])] not in shallow
                same('%s at %g: silent unkeyed' % (name, e['frequency_hz']), [e['evidence']['ambient_seen'], e['evidence']['ambient_known']], [False, deep])


def check_repeats(rows, radios):
    for row in rows:
        e = emission(radios, row[0], int(row[1]))
        same('%s, %s: repeats' % (row[0], row[1]), e['repeats'], int(row[2]))
        near('%s, %s: mean' % (row[0], row[1]), e['repeat_mean_dbm'], float(row[3]), float(row[4]))
        near('%s, %s: type A' % (row[0], row[1]), e['repeat_u_db'], float(row[5]), float(row[6]))


# The keyed sweeps of each condition, as the sheet lists them, the widest first.
KEYED = {'Orbanick': ['orbanick-00', 'orbanick-close', 'orbanick-beside'], 'Tamsary': ['tamsary-1'], 'Quelldrin': ['quelldrin-10'],
         'Morvenlick': ['morvenlick'], 'Fennimarch/plain': ['fennimarch'],
         'Fennimarch/with the stub': ['fennimarch', 'fennimarch-close', 'fennimarch-beside'], 'Selvoran': ['selvoran'],
         'Harrobeck': ['harrobeck-%d' % i for i in range(1, 6)] + ['harrobeck-close', 'harrobeck-beside']}


def check_rings(expected, radios):
    truth, sweeps, benches = ring.load('truth-pocket.json'), {}, {}
    for name in sum(KEYED.values(), []):
        sweep = evenings.pocket_sweep(truth, name)
        radio = truth['radios'][sweep['radio']]
        sweeps[name] = dict(sweep, f0=radio['fundamental_hz'], power=radio['power_dbm'], exclude=8e3, limit=-16.0206)
        benches[name] = ring.bench_of(sweep['chain'], truth['analyzers'][sweep['analyzer']]['file'])
    ring.check_stretches(expected['beside the carrier'], sweeps, benches)
    ring.check_left_open(expected['left open beside the carrier'], KEYED, sweeps, radios)
    for name, gone in (('Orbanick', ['orbanick-close.csv', 'orbanick-beside.csv']), ('Fennimarch/with the stub', ['fennimarch-beside.dat']),
                       ('Fennimarch/with the stub', ['fennimarch-close.dat']), ('Harrobeck', ['harrobeck-beside.csv'])):
        ring.check_without('pocket.sheet', name, gone, KEYED, sweeps)


def check_sweeps(radios):
    stub = {s['purpose']: s for s in radios['Fennimarch/with the stub']['sweeps']}
    same('the stub: sweeps', sorted(stub), ['keyed', 'notched', 'unkeyed'])
    check('the stub: all used', all(s['used'] for s in stub.values()))
    same('Orbanick: steps', [s['step_db'] for s in radios['Orbanick']['sweeps'] if s['purpose'] == 'step'], [10, 20])


def figure(value, unseen=False):
    return ('<' if unseen else '') + '%.1f' % value


def part(e):
    """The radio's part as the text table writes it."""
    if e['radio_part_high_dbm'] is None:
        return '-'
    high = figure(e['radio_part_high_dbm'])
    return '<' + high if e['radio_part_low_dbm'] is None else figure(e['radio_part_low_dbm']) + ' .. ' + high


def check_text(radios):
    """The table that people read says whose it is, by what, the radio's part, what stands there unkeyed, the steps and the repeats."""
    text = talk('judge', os.path.join(SAMPLES, 'pocket.sheet'))
    for name, radio in radios.items():
        lines = text.split('\n%s: ' % name, 1)[-1].split('\n\n', 1)[0].split('\n')
        for e in (e for e in radio['emissions'] if e['detected']):
            called = 'spur at %g MHz' % (e['frequency_hz'] / 1e6) if e['order'] is None else '%d%s harmonic' % (e['order'], {2: 'nd', 3: 'rd'}.get(e['order'], 'th'))
            where, said = '%s, %s in the table: ' % (name, called), [line.strip() for line in lines if line.strip().startswith(called)]
            unkeyed = figure(e['evidence']['ambient_dbm'], not e['evidence']['ambient_seen'])
            row = re.split(' {2,}', said[0])
            same(where + 'row', row[-6:-2] + row[-1:], [e['origin'], e['origin_basis'], part(e), unkeyed, e['verdict']])  # the room stands before the verdict
            readings = e['evidence'].get('readings', [])
            same(where + 'steps', [line.count(' dB ') for line in said if 'by steps' in line], [len(readings)] if readings else [])
            check(where + 'reading', all(figure(p['level_dbm'], not p['seen']) in said[1] for p in readings))
            same(where + 'repeats', [figure(e['repeat_mean_dbm']) in line for line in said if 'type A' in line], [True] if e['repeats'] > 1 else [])


def check_judging(expected):
    said = run('judge', os.path.join(SAMPLES, 'pocket.sheet'), '--json')
    if not said:
        return
    same('pocket: safe', said['safe'], True)
    same('pocket: unwanted warnings', sorted({w['code'] for w in said['warnings']} & TOLD), [])
    conditions, told = expected["conditions of the lent analyzer's evening"], {row[0]: row[1].split() for row in expected['warnings']}
    same('pocket: conditions', [r['name'] for r in said['radios']], [row[0] for row in conditions])
    radios = {r['name']: r for r in said['radios']}
    for row in conditions:
        same(row[0] + ': told', sorted({w['code'] for w in radios[row[0]]['warnings']} & TOLD), told[row[0]])
        check_condition(row, expected[row[0]], radios[row[0]], frozenset())
    check_step_readings(expected['readings'], radios)
    check_parts(expected['parts'], radios)
    check_air(expected['air'], expected['not deep enough'], radios)
    check_repeats(expected['repeats'], radios)
    check_sweeps(radios)
    check_rings(expected, radios)
    check_text(radios)


def check_all():
    expected = tables(os.path.join(SAMPLES, 'expected-pocket.md'))
    check_exports_read()
    check_chain('stub.chain', expected['chain with the stub'])
    check_headroom()
    check_judging(expected)
