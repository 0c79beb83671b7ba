#!/usr/bin/python3
"""README's pictures, made from the program on the samples: readme.py [--write]. As a test it makes them in BUILD/readme-pictures and holds those in
samples/ against them; --write puts them there. Run under tests/under-display, on Debian's own python."""
import os
import re
import subprocess
import sys
import unittest

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path[:0] = [HERE, os.path.join(HERE, "..")]
import counted  # noqa: E402
from desk import BUILD, ROOT, SAMPLE, Atspi, act, children, has, labels, until, written  # noqa: E402
from window import Case  # noqa: E402

SAMPLES = os.path.join(ROOT, "samples")
WRITE = "--write" in sys.argv
FOLDER = SAMPLES if WRITE else os.path.join(BUILD, "readme-pictures")
ALIKE = 0.03  # root of the mean square, of black to white: another font's hinting stays under it, another page does not


def save(pixels, name):
    """A PPM file's bytes as a small PNG."""
    subprocess.run(["convert", "ppm:-", "+dither", "-colors", "128", "-strip", "-define", "png:exclude-chunks=date,time", f"png8:{os.path.join(FOLDER, name)}"],
                   input=pixels, check=True)


def size(path):
    return subprocess.run(["identify", "-format", "%wx%h", path], capture_output=True, text=True, check=True).stdout


def apart(one, other):
    said = subprocess.run(["compare", "-metric", "RMSE", one, other, "null:"], capture_output=True, text=True, check=False).stderr
    return float(re.search(r"\(([\d.e+-]+)\)", said).group(1))


class Pictures(Case):
    def setUp(self):
        super().setUp()
        os.makedirs(FOLDER, exist_ok=True)

    def holds(self, name):
        made, shown = os.path.join(FOLDER, name), os.path.join(SAMPLES, name)
        again = f"samples/{name} is not today's program: look at {made}, then tests/under-display tests/window/readme.py --write"
        self.assertEqual(size(made), size(shown), again)
        self.assertLess(apart(made, shown), ALIKE, again)

    def test_chart(self):
        with subprocess.Popen([os.path.join(BUILD, "app", "spurproof-batch"), "draw", SAMPLE, "-o", "-", "--format", "png", "--size", "1440x900"],
                              stdout=subprocess.PIPE) as draw:
            save(subprocess.run(["convert", "png:-", "ppm:-"], stdin=draw.stdout, stdout=subprocess.PIPE, check=True).stdout, "chart.png")
        self.assertEqual(draw.returncode, 0)
        self.holds("chart.png")

    def test_window(self):
        with self.desk(SAMPLE) as desk:
            desk.resize(1200, 750)
            desk.judged()
            desk.ledger()
            save(desk.picture(), "window.png")
        self.holds("window.png")

    def test_calibrating(self):
        """The thimble's own run: into the form, into the stage."""
        with self.desk(SAMPLE, answers=[os.path.join(SAMPLES, "thimble.run")]) as desk:
            desk.resize(1200, 750)
            desk.judged()
            desk.keys("alt+2")
            stages = desk.get("list", "Stages")
            index = until(lambda: next((i for i, one in enumerate(children(stages)) if "thimble" in labels(one)), None), "the thimble's row")
            Atspi.Selection.select_child(stages, index)
            until(lambda: has(children(stages)[index], Atspi.StateType.SELECTED), "the thimble is chosen")
            desk.keys("F6")
            form = desk.dialog("thimble")
            act(until(lambda: desk.find("push button", "Open a run…", form), "its buttons"))
            until(lambda: (row := desk.find("text", "frequency, row 3", form)) and written(row) == "450MHz", "the run is in the form")
            save(desk.picture(form), "calibrate.png")
            desk.keys("ctrl+Return", window=form)
            desk.gone(form)
            desk.judged()
            save(desk.picture(), "calibrated.png")
        self.holds("calibrate.png")
        self.holds("calibrated.png")

    def test_another_page_is_told_apart(self):
        self.assertGreater(apart(os.path.join(SAMPLES, "window.png"), os.path.join(SAMPLES, "calibrated.png")), 3 * ALIKE)


if __name__ == "__main__":
    sys.argv = [one for one in sys.argv if one != "--write"]
    counted.main()
