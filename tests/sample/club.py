"""The first evening: samples/club.sheet against samples/expected.md."""
import copy
import json
import math
import os

import evenings
import layouts
import ring
from checking import SAMPLES, UNWANTED, check_chain, check_condition, check_reading, near, run, same, tables

HERE = os.path.dirname(os.path.abspath(__file__))


def check_exports_read():
    with open(os.path.join(HERE, 'truth.json'), encoding='utf-8') as f:
        sweeps = json.load(f)['sweeps']
    truths = {name: [sweeps[sweep] for sweep in keys] for name, (_layout, keys) in layouts.CLUB.items()}
    check_reading(sorted(truths), truths, {'dornimel-70cm.dat': ('rbw_hz', 'attenuation_db', 'detector')})


def check_headroom():
    said = run('headroom', os.path.join(SAMPLES, 'club.sheet'), '--power', '36.81dBm', '--fundamental', '146.46MHz', '--json')
    if not said:
        return
    same('headroom: safe', said['safe'], True)
    nodes = {node['name']: node for node in said['nodes']}
    near('headroom: into the brick', nodes['brick']['level_dbm'], 36.81 - 0.198, 0.002)
    near('headroom: the brick', nodes['brick']['headroom_db'], 10 * math.log10(25 / 4.58), 0.01)
    near('headroom: into the thimble', nodes['thimble']['level_dbm'], 6.52, 0.1)
    near('headroom: into the analyzer', nodes['analyzer']['level_dbm'], -3.76, 0.1)
    worst = min(said['faults'], key=lambda fault: fault['headroom_db'])
    near('headroom: worst single fault', worst['headroom_db'], -3.60, 0.02)
    same('headroom: what it hits', worst['worst_node'], 'thimble')


# The sweeps of each condition with a limit, as the sheet lists them, the widest first.
KEYED = {'Zelbridor': ['zelbridor', 'zelbridor-close'], 'Tulvannick': ['tulvannick'], 'Larquedon': ['larquedon'], 'Brundlow': ['brundlow'],
         'Vaskerry': ['vaskerry-1', 'vaskerry-2', 'vaskerry-3', 'vaskerry-close'], 'Dornimel/2 m': ['dornimel-2m', 'dornimel-2m-close']}
METER = {'dornimel-2m': 33.06, 'dornimel-2m-close': 33.06}


def ring_sweeps():
    found = {}
    for name, sweep in ring.load('truth.json')['sweeps'].items():
        telegraphy = name.startswith('vaskerry')
        found[name] = dict(sweep, f0=sweep['fundamental_hz'], power=METER.get(name, sweep['power_dbm']), exclude=250 if telegraphy else 8e3,
                           limit=sweep['power_dbm'] - 43 if telegraphy else -16.0206)
    return found


def check_rings(expected, said):
    sweeps, bench = ring_sweeps(), ring.bench_of('club.chain', 'club.analyzer')
    radios = {r['name']: r for r in said['radios']}
    ring.check_stretches(expected['beside the carrier'], sweeps, dict.fromkeys(sweeps, bench))
    ring.check_left_open(expected['left open beside the carrier'], KEYED, sweeps, radios)
    for name, gone in (('Zelbridor', ['zelbridor-close.csv']), ('Vaskerry', ['vaskerry-close.txt']), ('Dornimel/2 m', ['dornimel-2m-close.csv'])):
        ring.check_without('club.sheet', name, gone, KEYED, sweeps)


def check_spur_in_ring():
    """Were there a spur in what the wide sweep cannot see, 8 dB over the limit and 30 kHz from the carrier: the wide sweep alone proves nothing, and
    the close one shows it."""
    truth = copy.deepcopy(ring.load('truth.json'))
    spur_hz, level, exports = 50.43e6, -8.0, {}
    for name in ('zelbridor', 'zelbridor-close'):
        truth['sweeps'][name]['spurs'][str(spur_hz)] = level
        file = name + '.csv'
        exports[file] = layouts.CLUB[file][0](evenings.club_trace(truth, name, SAMPLES), []).encode('utf-8')
    alone = ring.judged_otherwise('club.sheet', 'Zelbridor', ['zelbridor-close.csv'], {'zelbridor.csv': exports['zelbridor.csv']})
    both = ring.judged_otherwise('club.sheet', 'Zelbridor', [], exports)
    if not alone or not both:
        return
    same('a spur in the ring: the wide sweep alone', [alone['verdict'], any(abs(e['frequency_hz'] - spur_hz) < 1e5 for e in alone['emissions'])], ['not proven', False])
    found = [e for e in both['emissions'] if abs(e['frequency_hz'] - spur_hz) < 1e3]
    same('a spur in the ring: both', [both['verdict'], len(found), both['gaps']], ['not proven', 1, []])  # nothing shows yet whose it is
    if found:
        same('a spur in the ring: seen', [found[0]['detected'], found[0]['reason_code'], both['deciding_margin_db']], [True, 'untested', found[0]['margin_db']])
        near('a spur in the ring: its level', found[0]['level_dbm'], level, 0.3)


def check_gaps_left(radios):
    """Only of the widest gaps a sweep is advised; how many others there are is told."""
    for radio in radios:
        told = [w['values'] for w in radio['warnings'] if w['code'] == 'gaps-left']
        silent = [g for g in radio['gaps'] if g['why'] not in ('too-wide', 'no-power') and g['would_close'] is None]
        same(radio['name'] + ': gaps left', [w['left'] for w in told], [len(silent)] if silent else [])


def check_judging(expected):
    said = run('judge', os.path.join(SAMPLES, 'club.sheet'), '--json')
    if not said:
        return
    check_gaps_left(said['radios'])
    same('safe', said['safe'], True)
    same('mask and rule', [said['mask'], said['rule']], ['us-amateur', 'guarded'])
    same('unwanted warnings', sorted({w['code'] for w in said['warnings']} & UNWANTED), [])
    same('conditions', [r['name'] for r in said['radios']], [row[0] for row in expected['conditions']])
    for row, radio in zip(expected['conditions'], said['radios']):
        check_condition(row, expected[row[0]], radio)
    check_rings(expected, said)


def check_all():
    expected = tables(os.path.join(SAMPLES, 'expected.md'))
    check_exports_read()
    check_chain('club.chain', expected['chain'])
    check_headroom()
    check_judging(expected)
    check_spur_in_ring()
