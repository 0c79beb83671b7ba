#!/usr/bin/env python3
"""spurproof-batch pack from outside: the evening's list, and an earlier bench's radios, on the bench before it is packed."""
import os
import shutil
import sys
import tempfile

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path[:0] = [HERE, os.path.join(HERE, "..")]
import counted  # noqa: E402
from batch_case import Bench  # noqa: E402


class Lists(Bench):
    def setUp(self):
        self.own = tempfile.mkdtemp(prefix="spurproof-list-")
        self.book, self.list = os.path.join(self.own, "b.benchbook"), os.path.join(self.own, "list.csv")

    def tearDown(self):
        shutil.rmtree(self.own)

    def radios(self):
        out = os.path.join(self.own, "out")
        self.good("unpack", self.book, "-d", out)
        with open(os.path.join(out, "bench.sheet"), encoding="utf-8") as file:
            return file.read()

    def test_a_list(self):
        with open(self.list, "w", encoding="utf-8") as file:
            file.write("radio;owner;rated power\nMirrick;=Ola;0,5\nAskerby;;5\n")
        self.good("pack", "bench.sheet", "-o", self.book, "--list", self.list, "--conditions", "2 m high, 70 cm high")
        sheet = self.radios()
        self.assertIn("[condition Mirrick/70 cm high]", sheet)
        self.assertIn("owner==Ola", sheet)
        self.assertIn("rated_w=0.5", sheet)

    def test_what_is_wrong(self):
        with open(self.list, "w", encoding="utf-8") as file:
            file.write("radio,rated power\nMirrick,much\n")
        self.assertIn("list.csv:2:9: ", self.refused("pack", "bench.sheet", "-o", self.book, "--list", self.list))
        self.assertIn("--list", self.refused("pack", "bench.sheet", "-o", self.book, "--conditions", "2 m"))
        self.refused("pack", "bench.sheet", "-o", self.book, "--radios-of", "missing.sheet")
        self.assertEqual(os.listdir(self.own), ["list.csv"])

    def test_radios_of_another(self):
        blank, club = (os.path.join(os.environ.get("SP_SOURCE_ROOT", "."), "samples", name) for name in ("blank.sheet", "club.sheet"))
        self.good("pack", blank, "-o", self.book, "--radios-of", club)
        sheet = self.radios()
        self.assertIn("[radio Dornimel]", sheet)
        self.assertNotIn("keyed=", sheet)


if __name__ == "__main__":
    counted.main()
