#!/usr/bin/env python3
"""Each command of the command line under valgrind's memcheck, with SP_LONG: no use of what is freed, not set, or not there."""
import os
import shutil
import subprocess
import sys
import tempfile
import unittest

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
import counted  # noqa: E402

ROOT, BUILD = os.environ["SP_SOURCE_ROOT"], os.environ["SP_BUILD_ROOT"]
BATCH = os.path.join(BUILD, "app", "spurproof-batch")
CLUB, POCKET = (os.path.join(ROOT, "samples", name + ".sheet") for name in ("club", "pocket"))
WRONG = 99
# {d}: a folder of its own.
COMMANDS = (
    ["judge", POCKET, "--json"], ["judge", CLUB], ["read", os.path.join(ROOT, "samples", "raw", "zelbridor.csv")],
    ["read", os.path.join(ROOT, "samples", "raw", "brundlow.dat"), "--json"], ["range", POCKET], ["headroom", CLUB], ["budget", CLUB, "--radio", "Zelbridor"],
    ["compare", CLUB], ["width", os.path.join(ROOT, "samples", "raw", "zelbridor.csv")], ["draw", POCKET, "-o", "{d}/a.png"], ["draw", POCKET, "-o", "{d}/a.svg"],
    ["draw", POCKET, "-o", "{d}/a.pdf"], ["report", POCKET, "-o", "{d}/a.xlsx"], ["pack", POCKET, "-o", "{d}/a.benchbook"], ["judge", "{d}/a.benchbook"],
    ["unpack", "{d}/a.benchbook", "-o", "{d}/out"], ["judge", "{d}/not there.sheet"],
)


class Memcheck(unittest.TestCase):
    def test_commands(self):
        folder = tempfile.mkdtemp(prefix="memcheck")
        self.addCleanup(shutil.rmtree, folder)
        for command in COMMANDS:
            with self.subTest(command[0]):
                words = [word.format(d=folder) for word in command]
                run = subprocess.run(["valgrind", "-q", f"--error-exitcode={WRONG}", "--child-silent-after-fork=yes", BATCH, *words], capture_output=True,
                                     env=dict(os.environ, G_SLICE="always-malloc"), check=False)
                said = run.stderr.decode("utf-8", "replace")
                self.assertNotEqual(run.returncode, WRONG, said)
                self.assertIn(run.returncode, (0, 1, 2), said)
                self.assertNotIn("usage: ", said)


if __name__ == "__main__":
    if not os.environ.get("SP_LONG") or not shutil.which("valgrind"):
        print("skipped: only with SP_LONG and valgrind", file=sys.stderr)
        sys.exit(77)
    counted.main()
