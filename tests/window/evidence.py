#!/usr/bin/python3
"""Whose an emission is, as the window shows it: each step and each part as judge has it, opened from the chart and from the ledger; pictures."""
import os
import re
import subprocess
import sys

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path[:0] = [HERE, os.path.join(HERE, "..")]
import counted  # noqa: E402
from desk import BUILD, ROOT, Atspi, act, among, below, has, labels, name, until  # noqa: E402
from looks import unnamed  # noqa: E402
from window import Case, judge, number  # noqa: E402

PICTURES = os.path.join(BUILD, "window-pictures")
POCKET = os.path.join(ROOT, "samples", "pocket.sheet")
PLOT = "Level against attenuation"


class Evidence(Case):
    def plot(self, desk):
        return next((one for one in below(desk.window, leave=("tree table",)) if name(one) == PLOT), None)

    def click_on_the_chart(self, desk):
        """Left of all emissions: the choice stays."""
        place = Atspi.Component.get_extents(desk.get("image", "Spectrum"), Atspi.CoordType.WINDOW)
        window = until(lambda: desk.id_of(None), "the window is on the screen")
        subprocess.run(["xdotool", "windowfocus", "--sync", window, "mousemove", "--window", window, str(place.x + 4),
                        str(place.y + place.height // 2), "click", "1"], check=True)

    def opened(self, desk, order):
        until(lambda: any(order in one for one in labels(desk.window)), "the evidence opens")
        return until(lambda: self.plot(desk), "with its plot")

    def shown(self, theme):
        found = judge(POCKET)
        chosen = next(i for i, one in enumerate(found) if one["radio"] == "Quelldrin")
        second = next(one for one in found[chosen]["emissions"] if one["order"] == 2)
        evidence = second["evidence"]
        with self.desk(POCKET, theme=theme) as desk:
            until(lambda: len(desk.names()) == len(found), "the radios are there")
            desk.choose(chosen)
            self.click_on_the_chart(desk)
            desk.judged()
            desk.keys("F4")
            plot = self.opened(desk, f"Quelldrin, 2nd harmonic: {second['origin']}")
            numbers = [number(one) for one in re.findall("[\N{MINUS SIGN}+]?[0-9]+[.][0-9]", plot.get_description())]
            expected = [value for point in evidence["readings"] for value in (point["attenuation_db"], point["level_dbm"])]
            expected += [evidence[part][end] for part in ("radio", "analyzer") for end in ("low_dbm", "high_dbm")] + [evidence["ambient_dbm"]]
            self.assertEqual(len(numbers), len(expected), plot.get_description())
            for says, is_so in zip(numbers, expected):
                self.assertAlmostEqual(says, is_so, delta=0.0501, msg=plot.get_description())
            self.assertEqual(unnamed(desk.window), [])
            os.makedirs(PICTURES, exist_ok=True)
            shot = subprocess.run(["import", "-silent", "-window", "root", "png:-"], capture_output=True, check=True)  # a popover is a window of its own
            with open(os.path.join(PICTURES, f"evidence-{theme}.png"), "wb") as file:
                file.write(shot.stdout)
            desk.keys("Escape")
            until(lambda: not self.plot(desk), "and closes")

    def test_light(self):
        self.shown("light")

    def test_dark(self):
        self.shown("dark")

    def test_the_key_to_the_marks(self):
        with self.desk(POCKET) as desk:
            desk.judged()
            desk.keys("F12")
            marks = until(lambda: next((one for one in below(desk.window, leave=("tree table",)) if name(one) == "The chart's marks"), None), "the key opens")
            for words in ("hatched pipe: not the radio's", "diamond: read again with more attenuation", "fog: blind"):
                self.assertIn(words, marks.get_description())
            desk.keys("Escape")
            until(lambda: not any(name(one) == "The chart's marks" for one in below(desk.window, leave=("tree table",))), "and closes")

    def test_at_the_start_the_one_that_decides(self):
        found = judge(POCKET)[0]
        with self.desk(POCKET) as desk:
            desk.judged()
            desk.keys("F4")
            until(lambda: any(one.startswith(found["radio"] + ", spur at 99") for one in labels(desk.window)), "its evidence opens")

    def test_from_the_ledger_and_to_the_budget(self):
        with self.desk(POCKET) as desk:
            until(lambda: len(desk.names()) > 2, "the radios are there")
            desk.choose(2)
            table = desk.get("tree table", "Emissions")
            row = until(lambda: next((one for one in among(table, "table row", leave=("table row",)) if has(one, Atspi.StateType.SELECTED)), None),
                        "the radio's deciding emission is chosen in the ledger")
            self.assertIn("2nd harmonic", labels(row))
            self.assertEqual(name(row), "2nd harmonic")
            desk.do("win.evidence")
            self.opened(desk, "Quelldrin, 2nd harmonic")
            act(desk.get("push button", "Uncertainty budget (F5)"))
            desk.dialog("Uncertainty")


if __name__ == "__main__":
    counted.main()
