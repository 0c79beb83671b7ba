"""Runs the unittest cases of a script and prints what tests/run counts: N passed, N failed."""
import sys
import unittest


def main(module="__main__"):
    suite = unittest.defaultTestLoader.loadTestsFromName(module)
    result = unittest.TextTestRunner(stream=sys.stderr, verbosity=2).run(suite)
    failed = len(result.failures) + len(result.errors) + len(result.unexpectedSuccesses)
    # a case may fail in more than one of its parts (subTest)
    print(f"{max(result.testsRun - failed - len(result.skipped), 0)} passed, {failed} failed")
    sys.exit(1 if failed or not result.testsRun else 0)
