#!/usr/bin/env python3
"""Two limits at once, from outside: the mask decides, and what a second one would have stands beside it, in JSON, in the table, on paper."""
import os
import shutil
import subprocess
import sys
import tempfile
import unittest

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
import batch_case  # noqa: E402
import counted  # noqa: E402

ROOT = os.environ.get("SP_SOURCE_ROOT") or os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
HOUSE = "[mask]\nname=Zumberhall limit\nclause=house rules, 4\nedition=2026\nharmonics=10\n[rule 1]\nemission=1MHz 3GHz\nceiling_dbm=-36\n"


class Second(batch_case.Bench):
    def setUp(self):
        self.folder = tempfile.mkdtemp(prefix="spurproof-second-")
        self.addCleanup(shutil.rmtree, self.folder)
        shutil.copytree(os.path.join(ROOT, "samples"), self.folder, dirs_exist_ok=True)
        self.sheet = os.path.join(self.folder, "club.sheet")
        with open(os.path.join(self.folder, "house.mask"), "w", encoding="utf-8") as file:
            file.write(HOUSE)

    def edit(self, old, new):
        with open(self.sheet, encoding="utf-8") as file:
            text = file.read()
        self.assertIn(old, text)
        with open(self.sheet, "w", encoding="utf-8") as file:
            file.write(text.replace(old, new, 1))

    def test_it_stands_beside_and_alters_nothing(self):
        before = self.load("judge", self.sheet)["radios"]
        self.edit("mask=us-amateur\n", "mask=us-amateur\nsecond_mask=house.mask\n")
        after = self.load("judge", self.sheet)["radios"]
        for old, new in zip(before, after):
            self.assertIsNone(old["second"])
            self.assertEqual(new["second"]["mask"], "Zumberhall limit")
            for one, other in zip(old["emissions"], new["emissions"]):
                held = other["second"]
                self.assertIsNone(one["second"])
                self.assertEqual({**one, "second": 0}, {**other, "second": 0})
                # stricter everywhere here: no verdict is better, and one level is held to two numbers
                if one["margin_db"] is not None and one["limit_dbm"] >= -36:
                    self.assertAlmostEqual(held["margin_db"], one["margin_db"] - (one["limit_dbm"] + 36), places=9)
                    self.assertTrue(held["verdict"] != "complies" or one["verdict"] == "complies")
            self.assertEqual({**old, "second": 0, "emissions": 0}, {**new, "second": 0, "emissions": 0})
        table = self.good("judge", self.sheet)
        self.assertEqual(table.count("Second mask, Zumberhall limit, house rules, 4. "), len(after))
        book = os.path.join(self.folder, "one.benchbook")
        self.good("pack", self.sheet, "-o", book)
        self.assertEqual([one["second"] for one in self.load("judge", book)["radios"]], [one["second"] for one in after])

    def test_it_stands_on_paper(self):
        self.edit("mask=us-amateur\n", "mask=us-amateur\nsecond_mask=house.mask\n")
        for name, options in (("slip.pdf", ("--slip", "--radio", "Tulvannick")), ("report.pdf", ()), ("letter.pdf", ("--paper", "letter"))):
            path = os.path.join(self.folder, name)
            self.good("report", self.sheet, *options, "-o", path)
            text = subprocess.run(["pdftotext", "-raw", path, "-"], capture_output=True, text=True, check=True).stdout
            self.assertIn("Second mask, Zumberhall limit", text)
            self.assertEqual("second mask" in text, "slip" not in name)

    def test_pictures_of_every_chain_are_listed(self):
        subprocess.run(["convert", "-size", "64x48", "gradient:teal-white", os.path.join(self.folder, "pad.jpg")], check=True)
        with open(os.path.join(self.folder, "club.chain"), encoding="utf-8") as file:
            text = file.read()
        with open(os.path.join(self.folder, "own.chain"), "w", encoding="utf-8") as file:
            file.write(text.replace("[stage thimble]\n", "[stage thimble]\npicture=pad.jpg The thimble of the other shelf\n"))
        self.edit("[condition Tulvannick/2 m]\n", "[condition Tulvannick/2 m]\nchain=own.chain\n")
        self.assertEqual([(one["stage"], one["caption"]) for one in self.load("judge", self.sheet)["pictures"]],
                         [("thimble", "The thimble of the other shelf")])


if __name__ == "__main__":
    counted.main()
