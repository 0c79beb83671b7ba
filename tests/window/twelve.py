#!/usr/bin/python3
"""Twelve radios and more, by real keys: by harmonic, only this, its band, hidden, the search, folded bands; letters in the search are text."""
import os
import sys
import tempfile

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path[:0] = [HERE, os.path.join(HERE, "..")]
import counted  # noqa: E402
import made  # noqa: E402
from desk import Atspi, among, children, has, labels, name, role, steady, until, written  # noqa: E402
from looks import unnamed  # noqa: E402
from window import Case  # noqa: E402


class Twelve(Case):
    def rows(self, desk):
        return steady(lambda: [name(row) for row in children(desk.get("list", "Radios")) if role(row) == "list item"])

    def ticked(self, desk):
        """How many ticks of the rows in sight are set, of how many; not those of the bands' heads."""
        def look():
            ticks = [one for one in among(desk.get("list", "Radios"), "check box") if name(one).endswith(" on the chart") and not name(one).startswith("All of")]
            return sum(has(one, Atspi.StateType.CHECKED) for one in ticks), len(ticks)
        return steady(look)

    def pressed(self, desk, label):
        return steady(lambda: has(desk.get("push button", label), Atspi.StateType.PRESSED))

    def row(self, desk, begins):
        return until(lambda: next((one for one in children(desk.get("list", "Radios")) if name(one).startswith(begins)), None), f"a row {begins}")

    def test_a_report_that_takes_long_can_be_stopped(self):
        folder = tempfile.mkdtemp()
        report = os.path.join(folder, "report.xlsx")
        with open(report, "w", encoding="utf-8") as file:
            file.write("of last year")
        with self.desk(made.twelve(folder, 30001), bands=True, answers=[report]) as desk:
            until(lambda: len(self.rows(desk)) >= 10, "judged")
            desk.do("win.spreadsheet-sweeps")
            until(lambda: "Being written\u2026" in labels(desk.window), "it says that it takes long")
            desk.do("win.stop-report")
            until(lambda: "Being written\u2026" not in labels(desk.window), "it has stopped")
            self.assertFalse([one for one in labels(desk.window) if "is written" in one])
        with open(report, encoding="utf-8") as file:
            self.assertEqual(file.read(), "of last year")

    def test_keys(self):
        with self.desk(made.twelve(tempfile.mkdtemp(), 3001), bands=True) as desk:
            until(lambda: len(self.rows(desk)) >= 10 and self.rows(desk)[0].startswith("Band 2 m: 12"), "the bands with their radios")
            self.assertEqual(unnamed(desk.window), [])
            desk.click(self.row(desk, "Bostwith"), None)
            until(lambda: has(self.row(desk, "Bostwith"), Atspi.StateType.SELECTED), "a radio is chosen")
            desk.keys("h")
            until(lambda: self.pressed(desk, "by harmonic"), "by harmonic")
            desk.keys("s")
            until(lambda: self.ticked(desk)[0] == 1, "only this")
            desk.keys("s")
            until(lambda: self.ticked(desk)[0] == self.ticked(desk)[1] > 5, "all again")
            desk.keys("space")
            until(lambda: self.ticked(desk)[0] == self.ticked(desk)[1] - 1, "this one is hidden")
            desk.keys("space", "h")
            until(lambda: not self.pressed(desk, "by harmonic"), "by frequency")
            desk.keys("ctrl+f")
            search = desk.get("text", "Find a radio")
            until(lambda: has(search, Atspi.StateType.FOCUSED), "the search has the focus")
            desk.keys("s", "h")
            until(lambda: written(search) == "sh", "letters are text there")
            self.assertFalse(self.pressed(desk, "by harmonic"))
            desk.keys("BackSpace", "e", "l", "m")
            until(lambda: len(self.rows(desk)) == 2 and self.rows(desk)[1].startswith("Selmoor"), "what was sought, under its band")
            desk.keys("Escape")
            until(lambda: len(self.rows(desk)) >= 10, "all rows again")
            self.assertTrue(any("list order" in one for one in labels(desk.window)))
            desk.keys("alt+4")
            for charts in (True, False):
                desk.keys("v")
                until(lambda: self.pressed(desk, "Small charts") == charts, "small charts come and go")


if __name__ == "__main__":
    counted.main()
