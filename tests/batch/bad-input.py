#!/usr/bin/env python3
"""spurproof-batch and bad input: each refusal names the place, says what stands there, and writes nothing."""
import os
import re
import shutil
import sys
import tempfile

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path[:0] = [HERE, os.path.join(HERE, "..")]
import bench_files  # noqa: E402
import counted  # noqa: E402
from batch_case import Bench  # noqa: E402

PLACE = re.compile(r"([^/\s:]+):(\d+)(?::(\d+))?: ")  # a file that another names comes last


class BadInput(Bench):
    """Each names file, line and column, says what stands there, ends with 1 and writes nothing."""

    def spoil(self, name, old, new):
        folder = bench_files.write(tempfile.mkdtemp(prefix="spurproof-bad-"))
        self.addCleanup(shutil.rmtree, folder)
        path = os.path.join(folder, name)
        with open(path, "rb") as file:
            data = file.read()
        if old is None:
            data = new
        else:
            self.assertIn(old, data)
            data = data.replace(old, new, 1)
        with open(path, "wb") as file:
            file.write(data)
        return folder

    def refused_at(self, name, old, new, line, column, *says):
        folder = self.spoil(name, old, new)
        before = sorted(os.listdir(folder))
        err = self.refused("judge", "bench.sheet", "--json", "-o", "out.json", folder=folder)
        places = [place for place in PLACE.findall(err) if place[0] == name]
        self.assertTrue(places, err)
        self.assertEqual(int(places[-1][1]), line, err)
        self.assertTrue(places[-1][2], f"no column: {err}")
        if column:
            self.assertEqual(int(places[-1][2]), column, err)
        for text in says:
            self.assertIn(text, err)
        self.assertEqual(sorted(os.listdir(folder)), before)

    def test_missing_column(self):
        rows = b"Frequency (Hz),Level (dBm)\n" + b"".join(b"%d,%d\n" % (100000000 + i * 50000, -80) for i in range(100))
        self.refused_at("plendour.csv", None, rows.replace(b"102500000,-80\n", b"102500000\n"), 52, 0)

    def test_text_in_a_number(self):
        rows = b"Frequency (Hz),Level (dBm)\n" + b"".join(b"%d,%d\n" % (100000000 + i * 50000, -80) for i in range(100))
        self.refused_at("plendour.csv", None, rows.replace(b"102500000,-80", b"102500000,-8x0"), 52, 11, "-8x0")

    def test_not_a_number(self):
        rows = b"Frequency (Hz),Level (dBm)\n" + b"".join(b"%d,%d\n" % (100000000 + i * 50000, -80) for i in range(100))
        self.refused_at("plendour.csv", None, rows.replace(b"102500000,-80", b"102500000,NaN"), 52, 11, "NaN")

    def test_an_empty_file(self):
        folder = self.spoil("plendour.csv", None, b"")
        self.assertIn("plendour.csv", self.refused("judge", "bench.sheet", folder=folder))
        self.assertIn("plendour.csv", self.refused("read", "plendour.csv", folder=folder))

    def test_a_binary_file(self):
        folder = self.spoil("plendour.csv", None, bytes(range(256)) * 64)
        self.assertIn("plendour.csv", self.refused("judge", "bench.sheet", folder=folder))

    def test_a_text_that_is_no_trace(self):
        folder = self.spoil("plendour.csv", None, b"Dear club,\nthe sweep follows tomorrow.\n")
        self.assertIn("plendour.csv", self.refused("read", "plendour.csv", folder=folder))

    def test_mask_range_reversed(self):
        self.refused_at("house.mask", b"emission=30MHz 3GHz", b"emission=3GHz 30MHz", 11, 0, "emission")

    def test_mask_range_empty(self):
        self.refused_at("house.mask", b"fundamental=30MHz 225MHz", b"fundamental=30MHz 30MHz", 9, 0, "fundamental")

    def test_chain_names_a_missing_stage(self):
        self.refused_at("bench.chain", b"power-pad;small-pad", b"power-pad;lost-pad", 3, 18, "lost-pad")

    def test_chain_names_a_missing_file(self):
        self.refused_at("bench.chain", b"points=50MHz 30.02 0.03; 500MHz 30.10 0.03; 1600MHz 30.31 0.05", b"touchstone=lost.s2p", 13, 0, "lost.s2p")

    def test_negative_u(self):
        self.refused_at("bench.chain", b"30.10 0.03", b"30.10 -0.03", 13, 0, "-0.03")

    def test_text_in_a_key(self):
        self.refused_at("bench.analyzer", b"accuracy_db=0.5", b"accuracy_db=half", 9, 13, "accuracy_db", "half")

    def test_key_twice(self):
        self.refused_at("bench.sheet", b"title=Two pads\n", b"title=Two pads\ntitle=Three\n", 3, 0, "title")

    def test_sheet_names_a_missing_trace(self):
        self.refused_at("bench.sheet", b"keyed=plendour.csv", b"keyed=lost.csv", 15, 7, "lost.csv")

    def test_not_utf8(self):
        self.refused_at("bench.sheet", b"title=Two pads", b"title=Two p\xe4ds", 2, 0)

    def test_unknown_key_is_a_warning(self):
        folder = self.spoil("bench.sheet", b"title=Two pads", b"title=Two pads\ncolour=green")
        data = self.load("judge", "bench.sheet", folder=folder)
        warnings = [w for w in data["warnings"] if w["code"] == "unknown-key"]
        self.assertEqual(len(warnings), 1)
        self.assertIn("colour", warnings[0]["text"])

    def test_a_strangers_text_cannot_steer_the_terminal(self):
        folder = self.spoil("bench.sheet", b"[radio Plendour]", "[radio Plen\u009b31mdour]".encode())
        code, out, err = self.run_batch("judge", "bench.sheet", folder=folder)
        self.assertFalse(re.search("[\x00-\x09\x0b-\x1f\x7f-\x9f]", out + err), "control characters came through")
        self.assertEqual(code, 0)
        self.assertFalse(re.search("[\x1b\x9b]", self.refused("judge", "no\u009b31m\x1b[2J.sheet")), "control characters came through")


if __name__ == "__main__":
    counted.main()
