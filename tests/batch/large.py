#!/usr/bin/env python3
"""Files that hold much of nothing: blanks, line ends, zeros, one line, rows that can be read in many ways. Four times the bytes cost at most six
times the processor's time; a gigabyte (SP_LONG) ends in seconds, in little more memory than its own."""
import os
import shutil
import subprocess
import sys
import tempfile
import unittest

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path[:0] = [HERE, os.path.join(HERE, "..")]
import counted  # noqa: E402
from batch import BATCH  # noqa: E402

MIB = 1 << 20
LEAST_S = 0.1  # below that it is the program's start that is measured
GIGABYTE_S, GIGABYTE_KIB = 30, 1300 << 10
PATTERNS = {"blanks": b" ", "newlines": b"\n", "zeros": b"\0", "one line": b"x", "digits": b"1", "commas": b",", "quotes": b'"', "returns": b"\r",
            "bytes that are no UTF-8": b"\xe9", "comments": b"#\n", "words": b"a\n", "settings": b"RBW,10\n", "numbers": b"1\n",
            "pairs": b"1,2\n", "pairs and blank lines": b"1,2\n\n", "wide rows": b"1," * 255 + b"1\n", "quoted rows": b'"1","2"\n', "rows of two kinds": b"a\n1,2\n"}

# Each of its tables is within the limits, all together are not.
TABLE = b"MHz" + b",dBm" * 255 + b"\n" + b"".join(b"%d.5" % i + b",1" * 255 + b"\n" for i in range(1, 2000))
MORE = {"quotes that never close": b'a","\n', "quotes that never close in long lines": b'a"b,"c' + b"x" * 9000 + b"\n", "tables": TABLE,
        "tables of some rows": b"Hz,dBm\n" + b"".join(b"%d,-50\n" % (10 ** 8 + i) for i in range(11000)) + b"\n",
        "tables without a unit": b"".join(b"%d,-50\n" % (100 + i) for i in range(50000)) + b"\n"}
# Of a gigabyte's memory: decoded, beside the file itself; as many values as there may be, and the table that is one too many.
MEMORY = {"bytes that are no UTF-8": 3, "tables": 1.2}


class Large(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.mkdtemp(prefix="spurproof-large-")

    @classmethod
    def tearDownClass(cls):
        shutil.rmtree(cls.folder)

    def used(self, pattern, mib):
        """Processor seconds and KiB that reading so much of a pattern takes."""
        path = os.path.join(self.folder, "large")
        block = (pattern * (MIB // len(pattern)))
        with open(path, "wb") as file:
            for _ in range(mib):
                file.write(block)
        with open(os.devnull, "wb") as nothing:
            run = subprocess.Popen([BATCH, "read", path], stdout=nothing, stderr=nothing)
            _, status, usage = os.wait4(run.pid, 0)
            run.returncode = os.waitstatus_to_exitcode(status)
        self.assertEqual(run.returncode, 1)
        return usage.ru_utime + usage.ru_stime, usage.ru_maxrss

    def test_time_grows_as_the_bytes_do(self):
        for name, pattern in PATTERNS.items():
            with self.subTest(name):
                small, large = self.used(pattern, 1)[0], self.used(pattern, 4)[0]
                self.assertLessEqual(large, 6 * max(small, LEAST_S))

    @unittest.skipUnless("SP_LONG" in os.environ, "takes minutes")
    def test_a_gigabyte(self):
        for name, pattern in {**PATTERNS, **MORE}.items():
            with self.subTest(name):
                seconds, kib = self.used(pattern, 1023)
                print(f"{name}: {seconds:.1f} s, {kib >> 10} MiB", file=sys.stderr)
                self.assertLessEqual(seconds, GIGABYTE_S)
                self.assertLessEqual(kib, GIGABYTE_KIB * MEMORY.get(name, 1))


if __name__ == "__main__":
    counted.main()
