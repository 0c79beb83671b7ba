"""Chain and analyzer of a sample as plain numbers: read from its .chain and .analyzer.

Deliberately naive, and nothing of the program's: a second opinion is worth something only if it was formed apart."""
import math
import os

UNITS = {'Hz': 1.0, 'kHz': 1e3, 'MHz': 1e6, 'GHz': 1e9}


def frequency(text):
    for unit in ('GHz', 'MHz', 'kHz', 'Hz'):
        if text.endswith(unit):
            return float(text[:-len(unit)]) * UNITS[unit]
    return float(text)


def read_key_file(path):
    groups, group = {}, None
    with open(path, encoding='utf-8') as lines:
        for line in lines:
            line = (' ' + line.rstrip('\n')).split(' #')[0].strip()
            if line.startswith('['):
                group = groups.setdefault(line[1:-1], {})
            elif line:
                key, value = line.split('=', 1)
                group[key] = value
    return groups


def points(text, column=1):
    rows = [item.split() for item in text.split(';')]
    return [(frequency(row[0]), float(row[column])) for row in rows]


def at(curve, f):
    """Linear over log f between points; the end value held outside."""
    if f <= curve[0][0]:
        return curve[0][1]
    for (f1, y1), (f2, y2) in zip(curve, curve[1:]):
        if f <= f2:
            return y1 + (y2 - y1) * math.log(f / f1) / math.log(f2 / f1)
    return curve[-1][1]


class Bench:
    def __init__(self, samples, chain='club.chain', analyzer='club.analyzer'):
        chain = read_key_file(os.path.join(samples, chain))
        self.stages = [dict(chain['stage ' + name], name=name) for name in chain['chain']['stages'].split(';')]
        self.analyzer = read_key_file(os.path.join(samples, analyzer))['analyzer']
        self.losses = [points(stage['points']) for stage in self.stages]
        self.loss_u = [points(stage['points'], 2) for stage in self.stages]
        self.danl = points(self.analyzer['danl_dbm_hz'])
        self.correction = points(self.analyzer['amplitude_correction'])
        self.phase_noise = points(self.analyzer['phase_noise_dbc_hz'])
        self.intercepts = {2: float(self.analyzer['second_intercept_dbm']),
                           3: float(self.analyzer['third_order_intercept_dbm']) + 20 * math.log10(3) / 2}
        for item in self.analyzer.get('harmonic_intercepts_dbm', '').split(';'):
            if item:
                order, value = item.split()
                self.intercepts[int(order)] = float(value)

    def loss(self, f, power_w=0.0):
        """Sum of the stages, each warmed by the power that reaches it (loss * power_coefficient * P)."""
        total = 0.0
        for stage, curve in zip(self.stages, self.losses):
            loss = at(curve, f)
            loss += loss * float(stage['power_coefficient']) * power_w
            power_w *= 10 ** (-loss / 10)
            total += loss
        return total

    def own_harmonic(self, order, mixer_dbm, better_db=0.0):
        """What the mixer makes, dBm at the mixer; None where no intercept is known."""
        if order not in self.intercepts:
            return None
        return order * mixer_dbm - (order - 1) * (self.intercepts[order] + better_db)
