#!/usr/bin/env python3
"""The truth from outside: benches whose truth is known, judged by the program, and held against what must then be said.

    truth.py BINARY [--long] [--table] [--only WORD] [--seed N] [--keep DIR]

Every case is one wrong answer that an examination of the program found, kept with its truth. It states:
  truth   what was put into the files, in words and numbers
  must    what has to hold of any honest answer: mostly 'not complies', 'level within its U of ...', 'a gap covers ...'
The number in front is the subject, and has a file for itself: 0 itself, 1 widths and rates, 2 bandwidths, 3 sweeps, 4 repeats, 5 detectors,
6 steps, 7 to 9 planning, 10 places, 11 and 12 outputs. Nothing here reads the program's source or repeats its formulas: bench.py makes the
files from the trade's definitions (0 holds them against published figures), and what must hold
follows from the truth. Where several words would do (a gap's code), any is taken, but the gap must cover the place.

A case that must *comply* leaves nothing open: the carrier's neighbourhood is swept close by, and FM has a necessary bandwidth that holds its own
sidebands (tone 1 kHz, deviation 5 kHz puts -8 dBm at 9 kHz off a 37 dBm carrier: beyond 8 kHz that exceeds 25 uW, and rightly so). Rates are held
against the binomial law (1 % level of the nominal 4.55 %). The last case looks for figures of one judging that speak against each other.

Seeds are fixed: the same binary gives the same answer. Where a rate is meant (1 of 36 phases) the case itself goes through all; --long repeats every case
with four more seeds, and each must hold. A failing line gives what the program said and, after '!', what did not hold. Last line: N passed, N failed.
--table prints a markdown table (case, truth, what the program said), --only those whose name holds WORD; --keep leaves the files for looking at.
Needs numpy and scipy of Debian's own python (/usr/bin/python3).
"""
import argparse
import concurrent.futures
import os
import shutil
import sys
import tempfile
import time

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from cases import CASES  # noqa: E402
import itself, widths, rates, bandwidths, sweeps, repeats, detectors, steps, planning, places, outputs  # noqa: E401,E402,F401  each registers its cases

CASES.sort(key=lambda one: int(one.ident.split()[0]))  # by subject; the sort is stable


def work(index, seed, batch, top):
    where = os.path.join(top, f"{index:03}-{seed}")
    start = time.monotonic()
    failed, said, judged = CASES[index].work(where, batch, seed)
    return failed, said, outputs.contradictions(judged), len(judged), time.monotonic() - start


def short(text):
    return text.replace("|", "/").replace("\n", " ")


def main():
    parse = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parse.add_argument("binary", nargs="?", default=os.path.join(os.environ.get("SP_BUILD_ROOT", "build"), "app", "spurproof-batch"))
    parse.add_argument("--long", action="store_true", default=bool(os.environ.get("SP_LONG")))
    parse.add_argument("--table", action="store_true")
    parse.add_argument("--only", default="")
    parse.add_argument("--seed", type=int, default=1)
    parse.add_argument("--keep")
    parse.add_argument("--times", action="store_true")
    given = parse.parse_args()
    batch = os.path.abspath(given.binary)
    if not os.access(batch, os.X_OK):
        print(f"truth.py: {batch} is no program to run", file=sys.stderr)
        return 1
    top = given.keep or tempfile.mkdtemp(prefix="spurproof-truth-")
    seeds = [given.seed + n for n in range(5 if given.long else 1)]
    chosen = [i for i, one in enumerate(CASES) if (one.ident.startswith if given.only[:1].isdigit() else one.ident.__contains__)(given.only)]
    with concurrent.futures.ProcessPoolExecutor(os.cpu_count()) as pool:
        jobs = {(i, seed): pool.submit(work, i, seed, batch, top) for i in chosen for seed in seeds}
        done = {key: job.result() for key, job in jobs.items()}
    if not given.keep:
        shutil.rmtree(top)
    passed = wrong = 0
    rows = []
    for i in chosen:
        failed = [f"seed {seed}: {text}" if given.long else text for seed in seeds for text in done[i, seed][0]]
        said = next((done[i, seed][1] for seed in seeds if done[i, seed][0]), done[i, seeds[0]][1])
        rows.append((CASES[i], said, failed))
        passed, wrong = passed + (not failed), wrong + bool(failed)
        if given.times:
            print(f"{sum(done[i, seed][4] for seed in seeds):6.2f} s  {CASES[i].ident}", file=sys.stderr)
    if not given.only:  # what no single case asks: no two figures of one answer against each other
        found = [text for job in done.values() for text in job[2]]
        judged = sum(job[3] for job in done.values())
        rows.append((outputs.OVERALL, [f"{len(found)} contradictions in {judged} judgings"] + sorted(set(found))[:4], found[:1]))
        passed, wrong = passed + (not found), wrong + bool(found)
    if given.table:
        print("| case | truth | must hold | what the program said | |\n|---|---|---|---|---|")
        for one, said, failed in rows:
            print(f"| {short(one.ident)} | {short(one.truth)} | {short(one.must)} | {short('; '.join(said))}"
                  f"{short(' **! ' + '; '.join(failed[:3]) + '**') if failed else ''} | {'wrong' if failed else 'right'} |")
    else:
        for one, said, failed in rows:
            print(f"{'wrong' if failed else 'right'}: {one.ident}: {'; '.join(said)}" + "".join(f"\n    ! {text}" for text in failed[:5]))
            if failed:
                print(f"    truth: {one.truth}; must: {one.must}")
    print(f"{passed} passed, {wrong} failed")
    return 1 if wrong or not passed else 0


if __name__ == "__main__":
    sys.exit(main())
