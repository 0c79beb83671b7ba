#!/usr/bin/env python3
"""Whatever is no regular file, wherever a sheet, a chain, an option or an operand names it: refused at once, with what it is. Pipes the user gives."""
import os
import resource
import shutil
import socket
import subprocess
import sys
import tempfile
import threading
import unittest

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path[:0] = [HERE, os.path.join(HERE, "..")]
import bench_files  # noqa: E402
import counted  # noqa: E402
from batch import BATCH  # noqa: E402

LONGEST_S = 60  # nothing here takes one; it ends a hang
MOST_BYTES = 512 << 20
KINDS = {"fifo": "pipe", "socket": "is a socket", "device": "device", "folder": "folder", "system": "shown by the system", "link": "pipe",
         "circle": "levels of symbolic links",
         "sparse": "larger than|more than|limit"}


class Strange(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = bench_files.write(tempfile.mkdtemp(prefix="spurproof-strange-"))
        path = cls.path
        os.mkfifo(path("fifo"))
        cls.socket = socket.socket(socket.AF_UNIX)
        cls.socket.bind(path("socket"))
        os.symlink("/dev/zero", path("device"))
        os.mkdir(path("folder"))
        os.symlink("/proc/self/status", path("system"))
        os.symlink("fifo", path("link"))
        os.symlink("circle", path("circle"))
        with open(path("sparse"), "wb") as file:
            file.truncate(10 << 40)
        for kind in KINDS:
            os.symlink(kind, path(kind + ".s1p"))  # an ending that says what it should be

    @classmethod
    def tearDownClass(cls):
        cls.socket.close()
        shutil.rmtree(cls.folder)

    @classmethod
    def path(cls, name):
        return os.path.join(cls.folder, name)

    def put(self, name, text):
        with open(self.path(name), "w", encoding="utf-8") as file:
            file.write(text)
        return name

    def run_batch(self, *words, **more):
        def bound():
            resource.setrlimit(resource.RLIMIT_DATA, (MOST_BYTES, MOST_BYTES))
        run = subprocess.run([BATCH, *words], capture_output=True, cwd=self.folder, timeout=LONGEST_S, preexec_fn=bound,
                             env=dict(os.environ, LC_ALL="C.UTF-8"), **{"stdin": subprocess.DEVNULL, **more})
        return run.returncode, run.stdout.decode(), run.stderr.decode()

    def refused(self, kind, *words):
        code, out, err = self.run_batch(*words)
        self.assertEqual((code, out), (1, ""), f"{words}: {err}")
        self.assertRegex(err, KINDS[kind], words)
        self.assertIn(kind, err, words)
        self.assertEqual(err.count("\n"), 1)

    def each_kind(self, but=()):
        for kind in KINDS:
            if kind not in but:
                with self.subTest(kind=kind):
                    yield kind

    def test_named_by_a_sheet(self):
        sheet = bench_files.SHEET
        for kind in self.each_kind():
            for old, new in (("chain=bench.chain", "chain={}"), ("analyzer=bench.analyzer", "analyzer={}"), ("mask=house.mask", "mask={}"),
                             ("keyed=plendour.csv", "keyed={}"), ("step=quernish-step.csv 10", "step={} 10"), ("keyed=quernish.csv", "keyed=quernish.csv\nunkeyed={}"),
                             ("keyed=quernish.csv", "keyed=quernish.csv\nnotched={}"), ("temperature_c=22", "temperature_c=22\nunkeyed={}")):
                self.refused(kind, "judge", self.put("odd.sheet", sheet.replace(old, new.format(kind), 1)))

    def test_named_by_a_chain(self):
        for kind in self.each_kind():
            for old, new in (("points=50MHz 30.02 0.03; 500MHz 30.10 0.03; 1600MHz 30.31 0.05", "touchstone={}"),
                             ("points=50MHz 30.02 0.03; 500MHz 30.10 0.03; 1600MHz 30.31 0.05", "run={}"), ("vswr=1.10", "vswr={}.s1p")):
                self.refused(kind, "chain", self.put("odd.chain", bench_files.CHAIN.replace(old, new.format(kind), 1)))

    def test_named_by_an_option(self):
        for kind in self.each_kind():
            for words in (("judge", "bench.sheet", "--chain", kind), ("judge", "bench.sheet", "--analyzer", kind), ("judge", "bench.sheet", "--mask", kind),
                          ("compare", "bench.sheet", "--with", kind), ("width", "plendour.csv", "--analyzer", kind)):
                self.refused(kind, *words)

    def test_an_input_that_is_no_trace(self):
        for kind in self.each_kind():
            for words in (("judge", kind), ("chain", kind), ("calibrate", kind), ("pack", kind, "-o", "x.benchbook"), ("mask", kind, "--fundamental", "146MHz", "--power", "5W")):
                self.refused(kind, *words)

    def test_a_trace_on_the_command_line(self):
        for kind in self.each_kind(but=("fifo", "link")):  # a pipe is waited for there: the user himself named it
            for words in (("read", kind), ("width", kind), ("judge", "--radio", "X=" + kind, "--chain", "bench.chain", "--analyzer", "bench.analyzer",
                                                            "--mask", "house.mask")):
                self.refused(kind, *words)

    def test_a_pipe_of_the_user(self):
        with open(self.path("plendour.csv"), "rb") as file:
            data = file.read()
        wanted = self.run_batch("read", "plendour.csv", "--csv")
        self.assertEqual(wanted[0], 0)

        def feed():
            with open(self.path("fifo"), "wb") as out:
                out.write(data)
        writer = threading.Thread(target=feed)
        writer.start()
        self.assertEqual(self.run_batch("read", "fifo", "--csv"), wanted)
        writer.join()
        run = subprocess.run([BATCH, "read", "/dev/stdin", "--csv"], input=data, capture_output=True, cwd=self.folder, timeout=LONGEST_S, check=True)
        self.assertEqual(run.stdout.decode(), wanted[1])
        with open(self.path("plendour.csv"), "rb") as file:
            self.assertEqual(self.run_batch("read", "/dev/stdin", "--csv", stdin=file), wanted)

    def test_links_to_regular_files(self):
        for name in ("plendour.csv", "bench.chain", "bench.analyzer", "house.mask"):
            os.symlink(name, self.path("to-" + name))
        text = bench_files.SHEET
        for name in ("plendour.csv", "bench.chain", "bench.analyzer", "house.mask"):
            text = text.replace("=" + name, "=to-" + name)
        self.assertEqual(self.run_batch("judge", self.put("links.sheet", text))[0], 0)

    def test_a_foreign_file_is_not_quoted(self):
        secret = "user:a-secret-that-is-nobodys-business:0"
        self.put("foreign", secret + "\n")
        for old in ("chain=bench.chain", "analyzer=bench.analyzer", "mask=house.mask", "keyed=plendour.csv"):
            code, _, err = self.run_batch("judge", self.put("odd.sheet", bench_files.SHEET.replace(old, old.split("=")[0] + "=foreign", 1)))
            self.assertEqual(code, 1)
            self.assertNotIn(secret[:12], err)


if __name__ == "__main__":
    counted.main()
