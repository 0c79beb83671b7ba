#!/usr/bin/env python3
"""draw --by-harmonic, of twelve radios in two bands and of one radio in 27 conditions: what is written, and that nothing is written on another."""
import os
import re
import subprocess
import sys
import tempfile
import unittest
from html import unescape

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path[:0] = [os.path.join(HERE, ".."), os.path.join(HERE, "..", "window"), HERE]
import counted  # noqa: E402
import made  # noqa: E402
from batch_case import Bench  # noqa: E402

WORD = re.compile(r'<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">(.*?)</word>')


class Harmonic(Bench):
    @classmethod
    def setUpClass(cls):
        super().setUpClass()
        cls.twelve = made.twelve(tempfile.mkdtemp(dir=cls.folder), 15001)
        cls.one = made.one_radio(tempfile.mkdtemp(dir=cls.folder), 3001)

    def words(self, sheet, *options):
        """(left, top, right, bottom, word) of all that a picture says, in points."""
        path = os.path.join(self.folder, "chart.pdf")
        self.good("draw", sheet, "-o", path, *options)
        text = subprocess.run(["pdftotext", "-bbox", path, "-"], capture_output=True, check=True, timeout=600).stdout.decode()
        return [(*map(float, found[:4]), unescape(found[4])) for found in WORD.findall(text)]

    def at_the_right(self, words):
        """The lines of words right of the plot, the numbers of its axis left out."""
        lines = {}
        for left, top, _, _, word in sorted(words):
            if left > 1370 and 250 < top < 660:
                lines.setdefault(round(top / 6), []).append((left, word))
        return [" ".join(word for left, word in line if left < 1530) for line in lines.values()]

    def test_names_of_what_stands_apart(self):
        said = self.at_the_right(self.words(self.twelve, "--by-harmonic"))
        self.assertIn("1 Farlith", said)
        self.assertIn("4 Holvern", said)
        self.assertIn("the other 13", said)
        self.assertFalse(any("Jundrith" in line for line in said), said)

    def test_no_name_stands_on_another(self):
        for sheet in (self.twelve, self.one):
            for options in ((), ("--by-harmonic",)):
                beside = [word for word in self.words(sheet, *options) if 1370 < word[0] < 1530 and 250 < word[1] < 660]
                for i, one in enumerate(beside):
                    for other in beside[i + 1:]:
                        apart = one[2] <= other[0] + 0.5 or other[2] <= one[0] + 0.5 or one[3] <= other[1] + 3 or other[3] <= one[1] + 3
                        self.assertTrue(apart, f"{one} and {other}")

    def test_what_is_over_and_what_is_blind_is_said(self):
        said = " ".join(word for *_, word in self.words(self.twelve, "--by-harmonic"))
        self.assertIn("Farlith, 2nd: over by", said)
        self.assertIn("Jundrith, 3rd: over by", said)
        self.assertIn("blind for 4 Holvern: no harmonic below", said)

    def test_of_one_radio_the_condition_leads(self):
        words = self.words(self.one)
        said = " ".join(word for *_, word in words)
        self.assertIn("160 m 25 W 3rd", said)
        self.assertEqual(sum(left < 300 and word == "Vellmarch" for left, _, _, _, word in words), 1, "the radio is said once in the list")

    def test_wide_sweeps_are_logarithmic_unless_asked(self):
        def picture(*options):
            return self.good("draw", self.one, "-o", "-", "--format", "svg", *options)
        self.assertEqual(picture(), picture("--log"))
        self.assertNotEqual(picture(), picture("--linear"))
        code, _, err = self.run_batch("draw", self.one, "-o", "-", "--format", "svg", "--log", "--linear")
        self.assertEqual(code, 1)
        self.assertIn("--log and --linear", err)

    def test_one_axis_for_all_conditions(self):
        """The same frequencies, whichever condition is chosen (the lowest band, the highest)."""
        def marks(name):
            ticks = [word for left, top, _, _, word in self.words(self.one, "--radio", name) if 650 < top < 685 and 330 < left < 1400 and re.fullmatch(r"[\d.]+", word)]
            return ticks
        first, last = marks("Vellmarch/160 m 5 W"), marks("Vellmarch/10 m 100 W")
        self.assertEqual(first[0], "0.1")
        self.assertEqual(first, last)

    def test_judging_knows_nothing_of_it(self):
        self.assertEqual(self.run_batch("judge", self.twelve, "--by-harmonic")[0], 1)


if __name__ == "__main__":
    counted.main()
