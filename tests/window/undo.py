#!/usr/bin/python3
"""Undo in an entry, by real keys: text that the program has set is nobody's typing; where nothing was typed, Ctrl+Z is the book's."""
import os
import subprocess
import sys
import unittest

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path[:0] = [HERE, os.path.join(HERE, "..")]
import counted  # noqa: E402
from desk import SAMPLE, Atspi, actions, children, has, labels, name, role, steady, until, written  # noqa: E402
from window import Case  # noqa: E402

RATING = "rating, W"


class Undo(Case):
    def stages(self, desk):
        return steady(lambda: {labels(row)[0]: row for row in children(desk.get("list", "Stages")) if role(row) == "list item"})

    def choose(self, desk, stage):
        index = list(self.stages(desk)).index(stage)
        Atspi.Selection.select_child(desk.get("list", "Stages"), index)
        until(lambda: written(desk.get("text", "name", self.fields(desk))) == stage, f"{stage} is shown")

    def fields(self, desk):
        """The form of the chosen stage: what the rating stands in."""
        return desk.get("text", RATING).get_parent()

    def rating(self, desk):
        return desk.get("text", RATING)

    def says(self, desk, stage):
        return steady(lambda: labels(self.stages(desk)[stage]))

    def click(self, desk):
        subprocess.run(["xdotool", "mousemove", "2879", "1799"], check=True)  # a tooltip of the click before would take this one
        desk.click(self.rating(desk), desk.window)
        until(lambda: has(self.rating(desk), Atspi.StateType.FOCUSED), "the rating has the focus")

    def chain(self, **more):
        desk = self.desk(SAMPLE, **more)
        desk.keys("alt+2")
        desk.get("list", "Stages")
        return desk

    def expect_nothing_done(self, desk, before):
        until(lambda: not has(self.rating(desk), Atspi.StateType.FOCUSED), "the focus went on")
        self.assertEqual(self.says(desk, "brick"), before)
        self.assertNotIn("win.undo", actions(desk.window))

    def test_another_stage_does_not_rate_this_one(self):
        """The burnt input: tail, then brick, Ctrl+Z twice, Tab."""
        with self.chain() as desk:
            self.choose(desk, "tail")
            self.assertEqual(written(self.rating(desk)), "60")
            self.choose(desk, "brick")
            before = self.says(desk, "brick")
            for times in (1, 2, 5):
                self.click(desk)
                desk.keys(*["ctrl+z"] * times, "Tab")
                self.expect_nothing_done(desk, before)
                self.assertEqual(written(self.rating(desk)), "25")

    def test_what_was_typed_goes_back_to_what_stood_there(self):
        with self.chain() as desk:
            self.choose(desk, "tail")
            self.choose(desk, "brick")
            before = self.says(desk, "brick")
            self.click(desk)
            desk.keys("ctrl+a", "7", "5")
            until(lambda: written(self.rating(desk)) == "75", "75 is typed")
            desk.keys(*["ctrl+z"] * 6)
            until(lambda: written(self.rating(desk)) == "25", "what stood there")
            desk.keys("Tab")
            self.expect_nothing_done(desk, before)

    def test_untouched_the_keys_are_the_books(self):
        with self.chain() as desk:
            self.choose(desk, "brick")
            self.click(desk)
            desk.keys("ctrl+a", "2", "0", "Return")
            until(lambda: "win.undo" in actions(desk.window), "one edit")
            until(lambda: any("20 W" in one for one in self.says(desk, "brick")), "brick is rated 20 W")
            self.assertTrue(has(self.rating(desk), Atspi.StateType.FOCUSED))
            desk.keys("ctrl+z")
            until(lambda: written(self.rating(desk)) == "25", "the book's undo shows 25 again")
            self.assertNotIn("win.undo", actions(desk.window))
            desk.keys("ctrl+shift+z")
            until(lambda: written(self.rating(desk)) == "20", "and its redo 20")
            desk.keys("ctrl+z")
            until(lambda: "win.undo" not in actions(desk.window), "undone")
            self.choose(desk, "tail")
            self.click(desk)
            desk.keys("ctrl+shift+z")
            until(lambda: any("20 W" in one for one in self.says(desk, "brick")), "from another stage's entry too")

    def test_in_a_dialog_too(self):
        with self.chain() as desk:
            desk.keys("F2")
            dialog = desk.dialog()
            owner = until(lambda: desk.find("text", "owner", dialog), "its fields")
            self.assertEqual(name(owner), "owner")
            desk.click(owner, dialog)
            until(lambda: has(owner, Atspi.StateType.FOCUSED), "the owner has the focus")
            stood = written(owner)
            desk.keys("ctrl+z", "ctrl+z", "Tab", window=dialog)
            until(lambda: not has(owner, Atspi.StateType.FOCUSED), "the focus went on")
            self.assertEqual(written(owner), stood)
            self.assertNotIn("win.undo", actions(desk.window))
            desk.write(owner, "somebody", dialog)
            until(lambda: "win.undo" in actions(desk.window), "one edit")
            desk.keys("ctrl+z", window=dialog)
            until(lambda: written(owner) == stood, "undone in the book")
            until(lambda: "win.undo" not in actions(desk.window), "with nothing left")

    def test_what_is_still_typed_counts_when_the_window_closes(self):
        book = self.place("evening.benchbook")
        with self.chain(answers=[book]) as desk:
            desk.do("win.save-as")
            until(lambda: desk.state() == "saved", "saved")
            self.choose(desk, "brick")
            self.click(desk)
            desk.keys("ctrl+a", "2", "0")
            until(lambda: written(self.rating(desk)) == "20", "20 is typed, and not entered")
            desk.close()
            self.assertEqual(desk.program.returncode, 0)
        with self.desk(book) as desk:
            desk.keys("alt+2")
            until(lambda: any("20 W" in one for one in self.says(desk, "brick")), "brick is rated 20 W in the book")


if __name__ == "__main__":
    counted.main()
