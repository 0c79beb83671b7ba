#!/usr/bin/env python3
"""make-sample.py [FOLDER] - writes the raw exports of samples/raw (or FOLDER) from the truths in truth.json and truth-pocket.json.

Deterministic: the same bytes every time. A test runs it into a fresh folder and compares. What an analyzer reads is in receiver.py, what
stands at its input in evenings.py, how it is written in layouts.py."""
import json
import os
import sys

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
import evenings  # noqa: E402
import layouts  # noqa: E402

HERE = os.path.dirname(os.path.abspath(__file__))
SAMPLES = os.path.join(HERE, '..', '..', 'samples')
EVENINGS = (('truth.json', evenings.club_trace, layouts.CLUB), ('truth-pocket.json', evenings.pocket_trace, layouts.POCKET))


def main():
    folder = sys.argv[1] if len(sys.argv) > 1 else os.path.join(SAMPLES, 'raw')
    os.makedirs(folder, exist_ok=True)
    for truth_name, trace, files in EVENINGS:
        with open(os.path.join(HERE, truth_name), encoding='utf-8') as f:
            truth = json.load(f)
        for name, (layout, sweeps) in files.items():
            traces = [trace(truth, sweep, SAMPLES) for sweep in sweeps]
            with open(os.path.join(folder, name), 'wb') as f:
                f.write(layout(traces[0], traces[1:]).encode('utf-8'))


if __name__ == '__main__':
    main()
