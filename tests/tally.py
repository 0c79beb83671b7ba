#!/usr/bin/env python3
"""Counts what meson test ran: tally.py TESTLOG.json

A Check suite counts its checks, any other test what it says as "N passed, N failed", else one. Tells of the checks against something
outside how many there were and the one nearest to its tolerance. Ends with one line; non-zero where something failed or nothing ran.
"""
import json
import re
import sys


def counts(test):
    """(passed, failed) of one entry of the log; a test that broke off has failed at least once."""
    out = test.get("stdout", "")
    check = re.findall(r"^\d+%: Checks: (\d+), Failures: (\d+), Errors: (\d+)$", out, re.M)
    own = re.findall(r"^(\d+) passed, (\d+) failed$", out, re.M)
    if check:
        failed = sum(int(f) + int(e) for _, f, e in check)
        passed = sum(int(n) for n, _, _ in check) - failed
    elif own:
        passed, failed = map(int, own[-1])
    else:
        passed, failed = int(test["result"] == "OK"), 0
    if test["result"] not in ("OK", "EXPECTEDFAIL", "SKIP") and not failed:
        failed = 1
    return (0, 0) if test["result"] == "SKIP" else (passed, failed)


def main(path):
    try:
        with open(path, encoding="utf-8") as log:
            tests = [json.loads(line) for line in log if line.strip()]
    except (OSError, ValueError) as error:
        print(f"the tests broke off before their log was written ({error}); what stands above says why")
        print("0 passed, 1 failed")
        return 1
    passed = failed = 0
    outside = []
    for test in tests:
        good, bad = counts(test)
        passed, failed = passed + good, failed + bad
        if bad or test["result"] == "SKIP":
            print(f"{test['result'].lower()}: {test['name']}")
        for line in test.get("stdout", "").splitlines():
            if line.startswith("outside\t"):
                ratio, what, source, place = line.split("\t")[1:5]
                outside.append((float(ratio), what, source, place))
    print()
    if outside:
        ratio, what, source, place = max(outside)
        print(f"outside checks: {len(outside)}; the largest deviation is {ratio:.2g} of its tolerance: {what} ({source}; {place})")
    else:
        print("outside checks: none ran")
    print(f"{passed} passed, {failed} failed")
    return 1 if failed or not passed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
