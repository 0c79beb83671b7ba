#!/usr/bin/env python3
"""Holds what spurproof-batch says of the samples against samples/expected.md and expected-pocket.md, whose numbers were worked by hand.
Prints `N passed, N failed`. The exports are made anew first, and must be those of samples/raw to the byte."""
import os
import subprocess
import sys
import tempfile

import checking
from checking import BATCH, SAMPLES, check, same
import club
import pocket

HERE = os.path.dirname(os.path.abspath(__file__))


def check_exports():
    with tempfile.TemporaryDirectory() as folder:
        subprocess.run([sys.executable, os.path.join(HERE, 'make-sample.py'), folder], check=True)
        names = sorted(os.listdir(folder))
        same('exports made', names, sorted(os.listdir(os.path.join(SAMPLES, 'raw'))))
        for name in names:
            with open(os.path.join(folder, name), 'rb') as a, open(os.path.join(SAMPLES, 'raw', name), 'rb') as b:
                check('bytes of raw/' + name, a.read() == b.read())


def main():
    check_exports()
    if not os.access(BATCH, os.X_OK):
        check('spurproof-batch is built', False, BATCH)
    else:
        club.check_all()
        pocket.check_all()
    print('%d passed, %d failed' % (checking.passed, checking.failed))
    return checking.failed > 0


if __name__ == '__main__':
    sys.exit(main())
