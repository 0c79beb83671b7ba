#!/usr/bin/python3
"""What is typed into the form of a substitution run and not taken yet stands there again after a kill and after a quit, and is gone once it is taken."""
import os
import shutil
import signal
import sys
import tempfile
import unittest

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path[:0] = [HERE, os.path.join(HERE, "..")]
import counted  # noqa: E402
from desk import SAMPLE, Desk, act, labels, until, written  # noqa: E402

HOW = "Take into the stage"


class Drafts(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.mkdtemp(prefix="drafts")
        self.addCleanup(shutil.rmtree, self.folder)

    def desk(self, *arguments, **more):
        desk = Desk(*arguments, home=os.path.join(self.folder, "home"), **more)
        self.addCleanup(desk.kill)
        return desk

    def kept(self):
        """The files of the drafts' folder; not one that is being written beside."""
        folder = os.path.join(self.folder, "home", "data", "spurproof", "drafts")
        return [one for one in os.listdir(folder) if one.endswith((".draft", ".draft~"))] if os.path.isdir(folder) else []

    def form(self, desk):
        """Of the chain's first stage, by keys."""
        desk.keys("alt+2")
        desk.get("list", "Stages")
        desk.keys("F6")
        form = desk.dialog("tail")
        until(lambda: desk.find("text", "note", form), "its fields")
        return form

    def write(self, desk, form, key, text):
        desk.write(desk.get("text", key, form), text, form)

    def text_kept(self, text):
        """Is it in one of the files by now?"""
        folder = os.path.join(self.folder, "home", "data", "spurproof", "drafts")
        for one in self.kept():
            with open(os.path.join(folder, one), encoding="utf-8") as file:
                if text in file.read():
                    return True
        return False

    def fill(self, desk, form):
        self.write(desk, form, "note", "half done, by ear")
        self.write(desk, form, "frequency, row 1", "146MHz")
        self.write(desk, form, "before, dB@min, row 1", "0.01@0; 0.02@1")
        self.write(desk, form, "inserted, dB@min, row 1", "-0.41@2; -0.42@3")

    def expect_filled(self, desk, form):
        until(lambda: written(desk.get("text", "note", form)) == "half done, by ear", "the note")
        for key, text in (("frequency, row 1", "146MHz"), ("before, dB@min, row 1", "0.01@0; 0.02@1"), ("inserted, dB@min, row 1", "-0.41@2; -0.42@3")):
            self.assertEqual(written(desk.get("text", key, form)), text)
        self.assertTrue(any("typed before stands here" in words for words in labels(form)), "and that it does is said")

    def through(self, *arguments, end=Desk.close):
        """Typed and killed; there again, typed on and ended; there again and taken; gone."""
        with self.desk(*arguments) as desk:
            self.fill(desk, self.form(desk))
            until(lambda: self.text_kept("-0.42@3"), "it is written while the form stands open")
        with self.desk(*arguments) as desk:
            form = self.form(desk)
            self.expect_filled(desk, form)
            self.write(desk, form, "after, dB@min, row 1", "0.03@5")
            end(desk)  # with the form still open
        with self.desk(*arguments) as desk:
            form = self.form(desk)
            self.expect_filled(desk, form)
            self.assertEqual(written(desk.get("text", "after, dB@min, row 1", form)), "0.03@5")
            act(desk.get("push button", HOW, form))
            desk.gone(form)
            until(lambda: not self.kept(), "taken, it is no draft any more")
            self.assertIsNone(desk.bar())

    def test_of_a_book(self):
        book = os.path.join(self.folder, "evening.benchbook")
        with self.desk(SAMPLE, answers=[book]) as desk:
            desk.do("win.save-as")
            until(lambda: desk.state() == "saved", "saved")
        self.through(book)

    def test_of_a_sheet(self):
        self.through(SAMPLE, end=lambda desk: desk.told(signal.SIGTERM))

    def test_a_spoiled_file_is_told(self):
        with self.desk(SAMPLE) as desk:
            form = self.form(desk)
            self.write(desk, form, "note", "half done, by ear")
            until(lambda: self.text_kept("by ear"), "it is written")
        folder = os.path.join(self.folder, "home", "data", "spurproof", "drafts")
        name = self.kept()[0]
        with open(os.path.join(folder, name), "wb") as file:
            file.write(os.urandom(5000))
        with self.desk(SAMPLE) as desk:
            until(lambda: desk.bar() and name in desk.bar(), "the bar says which file")
            self.assertEqual(self.kept(), [name + "~"])
            self.assertEqual(written(desk.get("text", "note", self.form(desk))), "")


if __name__ == "__main__":
    counted.main()
