#!/usr/bin/env python3
"""The command line without memory: the n-th allocation of SQLite, cairo, the spreadsheet's writer, GSL or our own fails. It ends with a message or
with what it would have written; old files stay as they were, and nothing else is left. GLib ends a program without memory, and so do we where a
number's array or solver is wanted (core/quantity/large.h); the spreadsheet's library breaks off. GLib's own never fail here."""
import os
import shutil
import signal
import subprocess
import sys
import tempfile
import unittest
from concurrent.futures import ThreadPoolExecutor

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
import counted  # noqa: E402

ROOT, BUILD = os.environ["SP_SOURCE_ROOT"], os.environ["SP_BUILD_ROOT"]
BATCH, STARVE = (os.path.join(BUILD, *parts) for parts in (("app", "spurproof-batch"), ("tests", "faults", "libstarve.so")))
SHEET = os.path.join(ROOT, "samples", "pocket.sheet")
OBJECTS = "program,libsqlite3,libcairo,libpixman,libxlsxwriter,libminizip,libz.so,libpng,libgsl"
TRIES = 1000 if os.environ.get("SP_LONG") else 6  # of one command, all over its allocations
# OLD: stands there before; {d}: the folder.
COMMANDS = {
    "judge": (["judge", SHEET, "--json"], None),
    "judge a book": (["judge", "{d}/sound.benchbook", "--json"], None),
    "picture": (["draw", SHEET, "-o", "{d}/old.png"], "old.png"),
    "drawing": (["draw", SHEET, "-o", "{d}/old.pdf"], "old.pdf"),
    "report": (["report", SHEET, "-o", "{d}/old.xlsx"], "old.xlsx"),
    "pack": (["pack", SHEET, "-o", "{d}/old.benchbook"], "old.benchbook"),
    "unpack": (["unpack", "{d}/sound.benchbook", "-o", "{d}/out"], None),
}


def read(path):
    with open(path, "rb") as file:
        return file.read()


def tree(folder):
    """Every file's bytes."""
    return {os.path.relpath(os.path.join(at, name), folder): read(os.path.join(at, name)) for at, _, names in os.walk(folder) for name in names}


class Allocations(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.scratch = tempfile.mkdtemp(prefix="allocations", dir="/dev/shm" if os.access("/dev/shm", os.W_OK) else None)
        cls.addClassCleanup(shutil.rmtree, cls.scratch, True)
        cls.model = os.path.join(cls.scratch, "model")
        os.makedirs(os.path.join(cls.model, "tmp"))
        for name in ("sound.benchbook", "old.benchbook"):
            subprocess.run([BATCH, "pack", SHEET, "-o", os.path.join(cls.model, name)], check=True)
        for name in ("old.png", "old.pdf", "old.xlsx"):
            with open(os.path.join(cls.model, name), "w", encoding="utf-8") as file:
                file.write(f"the old {name}")

    def run_one(self, command, starve):
        """(exit, words on both channels, allocations, files after it)"""
        home = tempfile.mkdtemp(dir=self.scratch)
        folder, log = os.path.join(home, "d"), os.path.join(home, "log")
        shutil.copytree(self.model, folder)
        env = dict(os.environ, LD_PRELOAD=STARVE, SP_STARVE=f"{starve} {OBJECTS}", SP_STARVE_LOG=log, TMPDIR=os.path.join(folder, "tmp"), LC_ALL="C.UTF-8",
                   SOURCE_DATE_EPOCH="1700000000")
        run = subprocess.run([BATCH, *(part.format(d=folder) for part in COMMANDS[command][0])], env=env, capture_output=True, timeout=300, check=False)
        asked = int(read(log)) if os.path.exists(log) else 0
        files = tree(folder)
        shutil.rmtree(home)
        return run.returncode, run.stdout, run.stderr.decode("utf-8", "replace"), asked, files

    def check_one(self, command, starve, whole):
        what, old = f"{command}, allocation {starve}", COMMANDS[command][1]
        code, out, said, _, files = self.run_one(command, starve)
        if code == -signal.SIGTRAP:
            self.assertIn("no memory for ", said, what)
            self.assertEqual((out, files), (b"", self.before), what)
            return 1
        if code == -signal.SIGSEGV and command == "report":
            self.assertEqual({name: data for name, data in files.items() if not name.startswith("tmp/")}, self.before, what)
            return 1
        self.assertIn(code, (0, 1, 2, 3), f"{what}: ended with {code}: {said}")
        if code == whole[0]:  # it did without
            self.assertEqual(sorted(files), sorted(whole[4]), what)
            self.assertEqual(out, whole[1], what)
            if old and not old.endswith((".pdf", ".xlsx", ".benchbook")):
                self.assertEqual(files[old], whole[4][old], f"{what}: another picture")
            elif old:
                self.assertLess(abs(len(files[old]) - len(whole[4][old])), 2000, f"{what}: something is missing")
            return 0
        self.assertIn("spurproof-batch: ", said, f"{what}: {code}")
        self.assertEqual(out, b"", what)
        self.assertEqual(files, self.before, f"{what}: {said}: {sorted(files)}")
        return 1

    def test_allocations(self):
        self.before = tree(self.model)
        for command in COMMANDS:
            with self.subTest(command):
                whole = self.run_one(command, "0")
                whole = self.run_one(command, "999999999")
                self.assertIn(whole[0], (0, 1, 2, 3), whole[2])
                asked = whole[3]
                self.assertGreater(asked, 0)
                tries = sorted({1 + i * asked // TRIES for i in range(TRIES)}) if asked > TRIES else list(range(1, asked + 1))
                tries = [f"{n}{'+' if i % 3 == 2 else ''}" for i, n in enumerate(tries)]
                wrong = []

                def one(starve):
                    try:
                        return self.check_one(command, starve, whole)
                    except AssertionError as why:
                        wrong.append(str(why)[:600])
                        return 0
                with ThreadPoolExecutor(2) as pool:
                    told = sum(pool.map(one, tries))
                print(f"{command}: {len(tries)} of {asked} allocations failed, {told} told, {len(tries) - told} done without", file=sys.stderr)
                self.assertEqual(wrong, [])


if __name__ == "__main__":
    counted.main()
