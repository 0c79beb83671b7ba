#!/usr/bin/env python3
"""Each call by which spurproof-batch writes to a disk fails in turn: what stood there is whole or the new is, nothing is left, the file meant is named."""
import os
import shutil
import subprocess
import sys
import tempfile
import unittest

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path[:0] = [HERE, os.path.join(HERE, "..")]
import bench_files  # noqa: E402
import counted  # noqa: E402
from batch import BATCH  # noqa: E402
from preload import preload  # noqa: E402

SHIM = os.path.join(os.environ.get("SP_BUILD_ROOT", "build"), "tests", "libfault-shim.so")
LONG = "SP_LONG" in os.environ
# once, or from then on as a disk that stays full; SP_LONG tries all ways at every call, from whatever stands there
WAYS = [("ENOSPC", False), ("short", False), ("EIO", True)] + ([("EIO", False), ("ENOSPC", True)] if LONG else [])
OLD = b"what stood there before\n"


def numbers():
    """Every call; without SP_LONG the first ones, then wider and wider apart."""
    n = 1
    while True:
        yield n
        n += 1 if LONG or n < 8 else n // 2


class Faults(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = bench_files.write(tempfile.mkdtemp(prefix="spurproof-faults-"))
        with open(os.path.join(cls.folder, "plendour.csv"), "w", encoding="utf-8") as file:
            file.write(bench_files.trace([(146e6, -3.0), (292e6, -63.0)], 10, 1, wider=16))
        with open(os.path.join(cls.folder, "bench.sheet"), "w", encoding="utf-8") as file:
            file.write(bench_files.SHEET.split("[radio Quernish]")[0])
        subprocess.run([BATCH, "pack", "bench.sheet", "-o", "old.benchbook"], cwd=cls.folder, check=True)
        cls.tried = 0

    @classmethod
    def tearDownClass(cls):
        shutil.rmtree(cls.folder)
        print(f"{cls.tried} calls failed in turn", file=sys.stderr)

    def setUp(self):
        self.out, self.tmp = os.path.join(self.folder, "out"), os.path.join(self.folder, "tmp")

    def fresh(self, old):
        for folder in (self.out, self.tmp):
            shutil.rmtree(folder, ignore_errors=True)
            os.mkdir(folder)
        for name, data in old.items():
            with open(os.path.join(self.out, name), "wb") as file:
                file.write(data)

    def run_batch(self, words, n, way):
        mark = os.path.join(self.folder, "mark")
        env = dict(os.environ, **preload(SHIM), LC_ALL="C.UTF-8", TMPDIR=self.tmp, SP_FAULT_AT=str(n), SP_FAULT_AS=way[0], SP_FAULT_MARK=mark)
        if way[1]:
            env["SP_FAULT_ON"] = "1"
        run = subprocess.run([BATCH, *words], capture_output=True, cwd=self.folder, env=env, timeout=120)
        came = os.path.exists(mark)
        if came:
            os.unlink(mark)
        return came, run.returncode, run.stderr.decode()

    def tree(self, folder):
        """Every file below, links and folders too: name -> bytes, None of a folder."""
        found = {}
        for at, folders, files in os.walk(folder):
            for name in folders:
                found[os.path.relpath(os.path.join(at, name), folder)] = None
            for name in files:
                with open(os.path.join(at, name), "rb") as file:
                    found[os.path.relpath(os.path.join(at, name), folder)] = file.read()
        return found

    def each_fault(self, words, old, meant):
        """`words` write `meant` in the folder out, where `old` stands."""
        self.fresh(old)
        self.assertEqual(self.run_batch(words, 0, WAYS[0])[1:], (0, ""), words)
        new = self.tree(self.out)
        self.assertTrue(any(data != OLD for data in new.values()))
        for way in WAYS:
            for n in numbers():
                self.fresh(old)
                came, code, err = self.run_batch(words, n, way)
                told = f"{words} {way} call {n}: {code} {err}"
                if not came:
                    self.assertGreater(n, 1, told)
                    break
                type(self).tried += 1
                there = self.tree(self.out)
                self.assertEqual(self.tree(self.tmp), {}, told)
                self.assertIn(code, (0, 1), told)
                if code == 0:
                    self.assertTrue(self.same(there, new), told)
                else:
                    self.assertTrue(self.same(there, old) or self.same(there, new), f"{told}: {sorted(there)}")
                    ours = [line for line in err.splitlines() if not line.startswith("[")]  # the spreadsheet library talks too
                    self.assertEqual(len(ours), 1, told)
                    self.assertIn(meant, ours[0], told)
                    self.assertNotRegex(ours[0], r"\.spurproof-|spurproof-[A-Za-z0-9]{6}[.:]|/proc/self", told)

    @staticmethod
    def same(a, b):
        return a == b

    def on_old_and_new(self, words, name):
        for old in ({name: OLD}, {}) if name == "v.json" or (LONG and not name.endswith("xlsx")) else ({name: OLD},):
            self.each_fault((*words, "-o", "out/" + name), old, "out/" + name)

    def test_judge(self):
        self.on_old_and_new(("judge", "bench.sheet", "--json"), "v.json")

    def test_draw(self):
        for ending in ("png", "svg", "pdf") if LONG else ("svg",):
            self.on_old_and_new(("draw", "bench.sheet"), "f." + ending)

    def test_report(self):
        self.on_old_and_new(("report", "bench.sheet"), "r.xlsx")

    def test_unpack(self):
        self.each_fault(("unpack", "old.benchbook", "-d", "out/new"), {}, "out/new")
        self.fresh({})

    def test_unpack_into_an_empty_folder(self):
        self.each_fault(("unpack", "old.benchbook", "-d", "out"), {}, "out")


class Books(Faults):
    """A book is compared by what it unpacks to: two of the same bench may differ in their pages."""

    def unpacked(self, data):
        there = os.path.join(self.folder, "there")
        shutil.rmtree(there, ignore_errors=True)
        with open(os.path.join(self.folder, "b.benchbook"), "wb") as file:
            file.write(data)
        run = subprocess.run([BATCH, "unpack", "b.benchbook", "-d", "there"], capture_output=True, cwd=self.folder)
        self.assertEqual(run.stderr, b"")
        return self.tree(there)

    def same(self, a, b):
        return a == b or (a.keys() == b.keys() and all(self.unpacked(a[name]) == self.unpacked(b[name]) for name in a))

    def test_pack(self):
        with open(os.path.join(self.folder, "old.benchbook"), "rb") as file:
            old = file.read()
        with open(os.path.join(self.folder, "other.sheet"), "w", encoding="utf-8") as file:
            file.write(bench_files.SHEET.split("[radio Quernish]")[0].replace("Two pads", "Another evening"))
        for there in ({"b.benchbook": old}, {}) if LONG else ({"b.benchbook": old},):
            self.each_fault(("pack", "other.sheet", "-o", "out/b.benchbook"), there, "out/b.benchbook")

    test_judge = test_draw = test_report = test_unpack = test_unpack_into_an_empty_folder = None


if __name__ == "__main__":
    counted.main()
