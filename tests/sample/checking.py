"""What the checks of both evenings share: counting, the pages' tables, the program's answers, one emission against its row."""
import json
import math
import os
import subprocess

HERE = os.path.dirname(os.path.abspath(__file__))
SOURCE = os.environ.get('SP_SOURCE_ROOT', os.path.join(HERE, '..', '..'))
BUILD = os.environ.get('SP_BUILD_ROOT', os.path.join(SOURCE, 'build'))
SAMPLES = os.path.join(SOURCE, 'samples')
BATCH = os.path.join(BUILD, 'app', 'spurproof-batch')
U_TOLERANCE, LIMIT_TOLERANCE, LOSS_TOLERANCE = 0.05, 1e-4, 0.001
POWER_TOLERANCE = 0.15
# Warnings that would mean that the sample is not what its story says.
UNWANTED = {'unknown-key', 'label-used', 'not-calibrated', 'u-assumed', 'vswr-assumed', 'rating-missing', 'calibration-old',
            'bandwidth-assumed', 'lines-skipped', 'setting-ignored', 'rbw-unknown', 'detector-unknown', 'attenuation-unknown', 'undersampled',
            'carrier-undersampled', 'clipped', 'outside-calibration', 'floor-off-profile', 'meter-disagrees', 'overload', 'unsafe', 'power-class',
            'rated-power', 'no-fundamental', 'sum-detector'}

MICROVOLT = ('dornimel-2m.csv', 'dornimel-2m-close.csv', 'harrobeck-key-up.csv')  # exports in dBuV
METERED = ('Dornimel/2 m', 'Selvoran')

passed = failed = 0


def check(what, good, detail=''):
    global passed, failed
    if good:
        passed += 1
    else:
        failed += 1
        print('FAILED: %s %s' % (what, detail))


def near(what, got, want, tolerance):
    if want is None or got is None:
        check(what, got is None and want is None, 'got %s, expected %s' % (got, want))
    else:
        check(what, abs(got - want) <= tolerance, 'got %.6g, expected %.6g +- %g' % (got, want, tolerance))


def same(what, got, want):
    check(what, got == want, 'got %r, expected %r' % (got, want))


def number(text):
    return None if text == '-' else float(text)


def word(text):
    return None if text == '-' else text


def tables(path):
    """{heading or comment's word: [rows as lists]} of a page's tables; the heading row and its rule are left out."""
    found, name, rows = {}, None, None
    with open(path, encoding='utf-8') as page:
        for line in page:
            line = line.strip()
            if line.startswith('### '):
                name = line[4:]
            elif line.startswith('<!-- '):
                name = line[5:-4]
            elif line.startswith('|') and rows is None:
                rows = found.setdefault(name, [])
            elif line.startswith('|---'):
                continue
            elif line.startswith('|'):
                rows.append([cell.strip() for cell in line.strip('|').split('|')])
            if not line.startswith('|'):
                rows = None
    return found


def talk(*arguments):
    """What the program prints; empty where it fails."""
    done = subprocess.run([BATCH, *arguments], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, check=False,
                          env=dict(os.environ, LC_ALL='C.UTF-8'))
    check(' '.join(arguments[:2]), done.returncode == 0, 'exit %d: %s' % (done.returncode, done.stderr.strip()))
    return done.stdout if done.returncode == 0 else ''


def run(*arguments):
    text = talk(*arguments)
    return json.loads(text) if text else None


def check_reading(names, truths, bare):
    """Every layout is understood: points, span and settings are those of the truth; truths: {file: [sweep]}, bare: {file: settings that it lacks}."""
    said = run('read', *[os.path.join(SAMPLES, 'raw', name) for name in names], '--json')
    wanted = [(name, sweep) for name in names for sweep in truths[name]]
    traces = said['traces'] if said else []
    same('read: files', [os.path.basename(trace['file']) for trace in traces], [name for name, _sweep in wanted])
    for trace, (name, sweep) in zip(traces, wanted):
        same('read: points of ' + name, [trace['points'], trace['skipped_lines']], [sweep['points'], 0])
        near('read: start of ' + name, trace['first_hz'], sweep['start_hz'], 1e-3)
        near('read: stop of ' + name, trace['last_hz'], sweep['stop_hz'], 1e-3)
        for key in ('rbw_hz', 'attenuation_db', 'detector'):
            same('read: %s of %s' % (key, name), trace[key], None if key in bare.get(name, ()) else sweep[key])
        same('read: unit of ' + name, trace['level_unit_read'], 'dBuV' if name in MICROVOLT else 'dBm')


def check_chain(chain, rows):
    frequencies = ','.join(row[0] + 'MHz' for row in rows)
    said = run('chain', os.path.join(SAMPLES, chain), '--at', frequencies, '--json')
    for row, at in zip(rows, said['at'] if said else []):
        where = '%s at %s MHz: ' % (chain, row[0])
        near(where + 'frequency', at['frequency_hz'], float(row[0]) * 1e6, 1)
        near(where + 'loss', at['loss_db'], float(row[5]), LOSS_TOLERANCE)
        near(where + 'u', at['u_db'], float(row[6]), 0.005)
        same(where + 'calibrated', at['calibrated'], True)
        for stage, loss in zip(at['stages'], row[1:5]):
            near(where + stage['name'], stage['loss_db'], float(loss), LOSS_TOLERANCE)


def check_seen(where, row, e):
    level, slack = float(row[8]), float(row[9])
    near(where + 'level', e['level_dbm'], level, slack)
    near(where + 'U', e['expanded_db' if row[13] == '-' else 'margin_expanded_db'], float(row[15]), U_TOLERANCE + 0.2 * max(0, slack - 0.3))
    same(where + 'origin', e['origin'], word(row[16]))
    same(where + 'basis', e['origin_basis'], row[19] if len(row) > 19 else 'predicted' if row[16] in ('radio', 'mixed') else 'none')
    if row[13] != '-' and e['origin'] in ('radio', 'untested'):
        below = 0.5 * math.erfc(-e['margin_db'] / e['margin_u_db'] / math.sqrt(2))
        near(where + 'conformity', e['conformity'], below, 1e-6)


def check_emission(where, row, e, spacing_hz):
    near(where + 'frequency', e['frequency_hz'], float(row[1]) * 1e6, (1 if row[0] == 'spur' else int(row[0])) * spacing_hz / 2 + spacing_hz / 2)
    same(where + 'verdict', e['verdict'], row[17])
    same(where + 'reason', e['reason_code'], row[18])
    same(where + 'detected', e['detected'], row[7] == 'yes')
    if row[7] == 'not swept':
        same(where + 'level', [e['level_dbm'], e['floor_dbm'], e['margin_db']], [None, None, None])
        return
    if row[10] != '-':  # a blind sweep has none that means anything
        near(where + 'floor', e['floor_dbm'], float(row[10]), float(row[11]))
        same(where + "floor's cause", e['floor_cause'], row[12])
    near(where + 'limit', e['limit_dbm'], number(row[13]), LIMIT_TOLERANCE if row[13] == '-16.0206' else POWER_TOLERANCE)
    if row[13] != '-':
        near(where + 'margin', e['margin_db'], e['limit_dbm'] - e['level_dbm'], 1e-9)
    if row[7] == 'yes':
        check_seen(where, row, e)
        return
    near(where + 'level is the floor', e['level_dbm'], e['floor_dbm'], 0)
    same(where + 'origin', [e['origin'], e['conformity']], [None, None])
    near(where + 'U', e['expanded_db' if row[13] == '-' else 'margin_expanded_db'], float(row[15]), U_TOLERANCE)


def check_condition(row, rows, said, unwanted=UNWANTED):
    name, spacing_hz = row[0], float(row[2]) * 1e3
    same(name + ': verdict', said['verdict'], row[6])
    f = said['fundamental']
    near(name + ': f0', f['frequency_hz'], float(row[1]) * 1e6, spacing_hz / 2 + 1)
    near(name + ': P', f['level_dbm'], float(row[3]), POWER_TOLERANCE)
    near(name + ': P in W', f['power_w'], 10 ** (f['level_dbm'] / 10 - 3), 1e-9)
    near(name + ': U of P', f['expanded_db'], float(row[5]), U_TOLERANCE)
    same(name + ': basis', f['basis'], 'meter' if name in METERED else 'trace')
    same(name + ': emissions', [e['order'] for e in said['emissions']], [None if r[0] == 'spur' else int(r[0]) for r in rows])
    for r, e in zip(rows, said['emissions']):
        check_emission('%s, %s at %s MHz: ' % (name, r[0], r[1]), r, e, spacing_hz)
    same(name + ': unwanted warnings', sorted({w['code'] for w in said['warnings']} & unwanted), [])
    margins = [e['margin_db'] for e in said['emissions'] if e['margin_db'] is not None]
    same(name + ': worst margin', said['worst_margin_db'], min(margins) if margins else None)
    same(name + ': deciding margin', said['deciding_margin_db'], deciding_margin(said['emissions']))


ORDER = ('no limit', 'complies', 'not proven', 'inconclusive', 'exceeds')


def room(e):
    """The room beside an emission's verdict under the guarded rule: core/docs/computation.md, section 13."""
    if e['verdict'] == 'no limit' or e['margin_db'] is None:
        return None
    level, high = e['margin_db'], e['radio_part_high_dbm']
    if not e['detected'] or high is None or e['origin'] == 'untested':
        return level
    alone = 'complies' if level >= e['margin_expanded_db'] else 'exceeds' if level < -e['margin_expanded_low_db'] else 'inconclusive'
    if e['origin'] != 'radio' or e['verdict'] not in ('not proven', alone):
        return e['limit_dbm'] - (e['radio_part_low_dbm'] if e['verdict'] == 'exceeds' else high)
    return level


def deciding_margin(emissions):
    """Of the worst verdict the least room; None where one of them was blind."""
    worst = max((e['verdict'] for e in emissions), key=ORDER.index)
    rooms = []
    for e in emissions:
        if e['verdict'] == worst and e['reason_code'] == 'undersampled' and not e['detected']:
            return None
        if e['verdict'] == worst and room(e) is not None:
            rooms.append(room(e))
    return min(rooms) if rooms else None
