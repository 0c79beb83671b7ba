"""The first evening: samples/club.sheet against samples/expected.md."""
import json
import math
import os

import layouts
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


def check_judging(expected):
    said = run('judge', os.path.join(SAMPLES, 'club.sheet'), '--json')
    if not said:
        return
    same('safe', said['safe'], True)
    same('mask and rule', [said['mask'], said['rule']], ['us-amateur', 'guarded'])
    same('unwanted warnings', sorted({w['code'] for w in said['warnings']} & UNWANTED), [])
    same('conditions', [r['name'] for r in said['radios']], [row[0] for row in expected['conditions']])
    for row, radio in zip(expected['conditions'], said['radios']):
        check_condition(row, expected[row[0]], radio)


def check_all():
    expected = tables(os.path.join(SAMPLES, 'expected.md'))
    check_exports_read()
    check_chain('club.chain', expected['chain'])
    check_headroom()
    check_judging(expected)
