#!/usr/bin/env python3
"""Where the machine gives less than is asked: too little memory for a large export, no font of ours, a pipe that nobody reads. Each is told."""
import os
import resource
import shutil
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

MIB = 1 << 20
LONGEST_S = 120  # ends a hang
ROWS = 200000
FONTS = """<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd"><fontconfig><dir>{0}</dir><cachedir>{0}</cachedir></fontconfig>"""


class Rough(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = bench_files.write(tempfile.mkdtemp(prefix="spurproof-rough-"))

    @classmethod
    def tearDownClass(cls):
        shutil.rmtree(cls.folder)

    def path(self, name):
        return os.path.join(self.folder, name)

    def run_batch(self, *words, most=None, **env):
        def bound():
            resource.setrlimit(resource.RLIMIT_AS, (most, most))
        run = subprocess.run([BATCH, *words], capture_output=True, cwd=self.folder, timeout=LONGEST_S, preexec_fn=bound if most else None,
                             stdin=subprocess.DEVNULL, env=dict(os.environ, LC_ALL="C.UTF-8", **env))
        return run.returncode, run.stderr.decode()

    def least(self):
        """MiB of addresses that reading a short export takes; None where no limit helps (sanitizers)."""
        for mib in range(32, 512, 8):
            if self.run_batch("read", "plendour.csv", most=mib * MIB)[0] == 0:
                return mib
        return None

    def test_utf16_in_little_memory(self):
        least = self.least()
        if least is None:
            self.skipTest("this build takes more addresses than a limit can allow")
        text = "Frequency (Hz),Level (dBm)\n" + "".join(f"{10 ** 8 + i},-{60 + i % 30}.{0:035d}\n" for i in range(ROWS))
        said = {}
        for encoding in "utf-8", "utf-16":
            with open(self.path("large"), "wb") as file:
                file.write(text.encode(encoding))
            size = os.path.getsize(self.path("large")) // MIB + 1
            for more in range(0, 3 * size, 8):
                code, err = self.run_batch("read", "large", most=(least + 8 + more) * MIB)
                self.assertIn(code, (0, 1), f"{encoding}, {more} MiB more: {err}")
                said.setdefault((encoding, code), more)
                if code == 0:
                    break
                self.assertRegex(err, r"large: (cannot be read: Cannot allocate memory|not enough memory)", f"{encoding}, {more} MiB more")
            # the file, its text, the points and room for them to grow into
            self.assertLessEqual(said[(encoding, 0)], size * (1.5 if encoding == "utf-16" else 1) + 40, encoding)
        self.assertEqual(self.run_batch("read", "large")[0], 0)

    def test_utf16_that_is_none(self):
        for tail, told in (b"\x00\xd8", "ends within a character"), (b"\x00\xdc1\x00", "byte 33 of its text begins no character"):
            with open(self.path("half"), "wb") as file:
                file.write(b"\xff\xfe" + "Frequency (Hz),L".encode("utf-16-le") + tail)
            code, err = self.run_batch("read", "half")
            self.assertEqual(code, 1)
            self.assertIn(told, err)

    def test_a_font_that_is_not_there(self):
        os.mkdir(self.path("fonts"))
        others = subprocess.run(["fc-list", ":lang=en", "family", "file"], capture_output=True, text=True, check=True).stdout.splitlines()
        other = next(line.split(":")[0] for line in others if "Inter" not in line)
        shutil.copy(other, self.path("fonts"))
        with open(self.path("fonts.conf"), "w", encoding="utf-8") as file:
            file.write(FONTS.format(self.path("fonts")))
        for words in ("draw", "bench.sheet", "-o", "a.png"), ("report", "bench.sheet", "-o", "a.xlsx"):
            code, err = self.run_batch(*words)
            self.assertEqual((code, err), (0, ""))
            code, err = self.run_batch(*words, FONTCONFIG_FILE=self.path("fonts.conf"))
            self.assertEqual(code, 0)
            self.assertRegex(err, "the font Inter is not installed, or cannot be read: the picture is written in ")

    def test_a_pipe_that_nobody_reads(self):
        os.mkfifo(self.path("fifo"))
        told = subprocess.run([BATCH, "mask", "--json"], capture_output=True, cwd=self.folder, check=True).stdout
        writer = subprocess.Popen([BATCH, "mask", "--json", "-o", "fifo"], stderr=subprocess.PIPE, cwd=self.folder, env=dict(os.environ, LC_ALL="C.UTF-8"))
        self.assertIn(b"fifo: is a pipe that nobody reads; waiting for a reader", writer.stderr.readline())
        with open(self.path("fifo"), "rb") as file:
            self.assertEqual(file.read(), told)
        self.assertEqual((writer.wait(LONGEST_S), writer.stderr.read()), (0, b""))
        writer.stderr.close()
        # one that is read already is told nothing
        got = []
        reader = threading.Thread(target=lambda: got.append(open(os.open(self.path("fifo"), os.O_RDONLY), "rb").read()))
        keeps = os.open(self.path("fifo"), os.O_RDONLY | os.O_NONBLOCK)
        reader.start()
        self.assertEqual(self.run_batch("mask", "--json", "-o", "fifo"), (0, ""))
        reader.join()
        os.close(keeps)
        self.assertEqual(got, [told])


if __name__ == "__main__":
    counted.main()
