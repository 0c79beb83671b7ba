#!/usr/bin/python3
"""A book that another program or window has open, and a report that is still being written when the window closes."""
import os
import sys
import zipfile

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path[:0] = [HERE, os.path.join(HERE, "..")]
import counted  # noqa: E402
from desk import SAMPLE, act, children, labels, until  # noqa: E402
from keeping import RADIOS, Keep, names_in, setUpModule  # noqa: E402, F401


class Held(Keep):
    def test_another_program(self):
        book = self.book()
        with self.desk(book) as desk:
            until(lambda: len(desk.radios()) == len(RADIOS), "the book")
            with self.desk(book) as second:
                said = until(second.bar, "who has it")
                self.assertIn(str(desk.program.pid), said)
                self.assertIn("copy", said)
                self.assertEqual(second.state(), "a copy")
                until(lambda: len(second.radios()) == len(RADIOS), "it can be looked at")
                second.resize(1024, 640)
                self.show(second, "copy-light")
                self.assertEqual(self.kept(), [])
                self.duplicate(second)
                until(lambda: second.state() == "kept, no name", "edited, it is a book of its own")
                until(lambda: second.bar() is None, "and nothing calls it a copy any more")
                self.duplicate(desk, 2)
                until(lambda: desk.state() == "saved", "the first one goes on")
                names = desk.names()
                second.close()
            self.assertEqual(names_in(book), names)
            desk.close()
        self.assertEqual(names_in(book), names)
        self.assertEqual(len(self.kept()), 1)

    def test_the_same_window(self):
        book = self.book()
        with self.desk(book, answers=[book, book]) as desk:
            until(desk.radios, "judged")
            desk.do("win.open")
            until(lambda: desk.bar() and "already" in desk.bar(), "it says so")
            self.assertEqual(desk.state(), "saved")
            desk.keys("ctrl+m")  # looking once more at one's own file
            until(lambda: len(children(desk.application)) > 1 or "evening" in (desk.bar() or ""), "an answer")
            self.duplicate(desk)
            until(lambda: desk.state() == "saved", "saved")
            with self.desk(book, home=self.place("other")) as second:
                until(lambda: second.state() == "a copy", "another program finds it held")

    def test_another_window(self):
        book = self.book()
        with self.desk(book, answers=[book]) as desk:
            until(desk.radios, "judged")
            desk.keys("ctrl+n")
            other = desk.dialog()
            act(other, "win.open")
            until(lambda: any("evening.benchbook" in one and "window" in one and "copy" in one for one in labels(other)), "it says who has it")
            until(lambda: "a copy" in labels(other), "and is no book of its own")
            self.duplicate(desk)
            until(lambda: desk.state() == "saved", "the first one goes on")


class Reports(Keep):
    def left(self):
        return [one for one in os.listdir(self.folder) if one not in ("home", "report.xlsx", "chart.png", "tmp")]

    def through(self, action, place, good):
        os.makedirs(self.place("tmp"), exist_ok=True)
        os.environ["TMPDIR"] = self.place("tmp")
        self.addCleanup(os.environ.pop, "TMPDIR", None)
        with self.desk(SAMPLE, answers=[self.place(place)]) as desk:
            until(desk.radios, "judged")
            desk.do(action)
            desk.close()  # at once
        self.assertTrue(good(self.place(place)))
        self.assertEqual((self.left(), os.listdir(self.place("tmp"))), ([], []))

    def test_spreadsheet_and_close(self):
        self.through("win.spreadsheet", "report.xlsx", zipfile.is_zipfile)

    def test_picture_and_close(self):
        self.through("win.picture", "chart.png", os.path.exists)

    def test_failing_and_close(self):
        """The window does not go before it was told."""
        with self.desk(SAMPLE, answers=[self.place("no-such-folder", "report.xlsx"), self.place("report.xlsx")]) as desk:
            until(desk.radios, "judged")
            desk.do("win.spreadsheet")
            self.close(desk)
            until(lambda: desk.bar() and "report.xlsx" in desk.bar(), "the bar says that there is none")
            self.assertIsNone(desk.program.poll())
            desk.full(True)
            desk.do("win.spreadsheet")
            until(lambda: "cannot be" in desk.bar() and "no-such-folder" not in desk.bar(), "nor here")
            desk.close()
        self.assertEqual(os.listdir(self.folder), ["home"], "nothing half written")


if __name__ == "__main__":
    counted.main()
