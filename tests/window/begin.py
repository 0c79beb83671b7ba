#!/usr/bin/python3
"""Where one begins: the empty book's page and the job's steps, help, one verdict explained; and what a first hand does wrong is taken back."""
import os
import re
import subprocess
import sys
import unittest

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path[:0] = [HERE, os.path.join(HERE, "..")]
import counted  # noqa: E402
from desk import ROOT, SAMPLE, Atspi, act, actions, among, children, has, labels, name, steady, until, walk  # noqa: E402
from looks import unnamed  # noqa: E402
from window import Case, judge  # noqa: E402

BLANK = os.path.join(ROOT, "samples", "blank.sheet")
POCKET = os.path.join(ROOT, "samples", "pocket.sheet")


def text(desk):
    return steady(lambda: " ".join(labels(desk.content())))


class FirstHands(Case):
    def test_escape_takes_an_added_radio_back(self):
        with self.desk(SAMPLE) as desk:
            desk.judged()
            names = desk.names()
            desk.choose(2)
            desk.do("win.add-radio")
            dialog = desk.dialog("Radio")
            desk.keys("Escape", window=dialog)
            desk.gone(dialog)
            until(lambda: desk.names() == names, lambda: f"as before, not {desk.names()}")
            until(lambda: desk.chosen() == 2, "what was chosen is chosen again")

    def test_a_named_radio_stays(self):
        with self.desk(SAMPLE) as desk:
            desk.judged()
            desk.do("win.add-radio")
            dialog = desk.dialog("Radio")
            desk.write(desk.get("text", "name", dialog), "Ferrobund", dialog)
            desk.keys("Escape", window=dialog)
            desk.gone(dialog)
            until(lambda: "Ferrobund" in desk.names(), lambda: f"it stays in {desk.names()}")

    def offered(self, action, file, question, say):
        """A file that is no sweep and no book is offered to the bench, and taken back by undo."""
        with self.desk(SAMPLE, answers=[os.path.join(ROOT, "samples", file)]) as desk:
            desk.judged()
            desk.do(action)
            dialog = desk.dialog(question)
            act(until(lambda: desk.find("push button", "Use it", dialog), "an answer"))
            desk.gone(dialog)
            until(lambda: say in text(desk), say)
            desk.do("win.undo")
            until(lambda: "win.undo" not in actions(desk.window), "taken back")

    def test_a_chain_is_offered_to_the_bench(self):
        self.offered("win.import", "stub.chain", "Use stub.chain as the bench's chain?", "stub.chain is the bench's chain.")

    def test_an_analyzer_is_offered_to_the_bench(self):
        self.offered("win.open", "pocket.analyzer", "Use pocket.analyzer as the bench's analyzer?", "pocket.analyzer is the bench's analyzer.")

    def test_a_bad_chain_is_told(self):
        bad = self.place("bad.chain")
        with open(bad, "w", encoding="utf-8") as file:
            file.write("[chain]\nname=Bad\nstages=pad\n[stage pad]\nkind=pad\nlabel_db=many\n")
        with self.desk(SAMPLE, answers=[bad]) as desk:
            desk.judged()
            desk.do("win.import")
            until(lambda: desk.bar() and "bad.chain:6" in desk.bar() and "stays as it is" in desk.bar(), lambda: f"line 6, not {desk.bar()}")

    def focused(self, desk, page):
        """Something on the page has the focus."""
        until(lambda: has(desk.get("page tab", page), Atspi.StateType.SELECTED), f"page {page}")
        until(lambda: any(has(one, Atspi.StateType.FOCUSED) for one, _ in walk(desk.content())), f"the focus is on the page {page}")

    def test_a_page_that_is_turned_to_has_the_focus(self):
        with self.desk(SAMPLE) as desk:
            desk.judged()
            for number, page in ((2, "Chain"), (3, "Range"), (4, "Compare"), (5, "Report"), (1, "Spectrum")):
                desk.keys(f"alt+{number}")
                self.focused(desk, page)


class Empty(Case):
    def steps(self, desk):
        """name: state of each step."""
        rows = [name(row) for row in among(desk.get("list", "The job, eight steps"), "list item")]
        return dict(row.rsplit(": ", 1) for row in rows)

    def test_until_the_first_sweep(self):
        sweep = os.path.join(ROOT, "samples", "raw", "zelbridor.csv")
        with self.desk(BLANK, answers=[sweep]) as desk:
            until(lambda: "blind: nothing has been looked at yet" in text(desk), "all is fog")
            steps = steady(lambda: self.steps(desk))
            self.assertEqual(len(steps), 8)
            self.assertEqual([step for step, state in steps.items() if state == "done" and "sweep" in step], [])
            self.assertEqual(unnamed(desk.window), [])
            desk.do("win.import")
            dialog = desk.dialog("Import")
            accept = until(lambda: desk.find("push button", "Import 1", dialog), "read")
            until(lambda: has(accept, Atspi.StateType.SENSITIVE), "it can be taken")
            act(accept)
            desk.gone(dialog)
            until(lambda: len(desk.radios()) == 1 and desk.find("image", "Spectrum"), "the spectrum")
            self.assertNotIn("nothing has been looked at", text(desk))
            desk.do("win.undo")
            until(lambda: "nothing has been looked at" in text(desk), "empty again")

    def test_steps_by_keys(self):
        """Shift+Enter leads to the chain; with a loss and a rating the first step is done."""
        with self.desk(BLANK) as desk:
            until(lambda: self.steps(desk), "the steps")
            desk.keys("shift+Return")
            until(lambda: has(desk.get("page tab", "Chain"), Atspi.StateType.SELECTED), "the chain's page")
            desk.write(desk.get("text", "label"), "0.3", desk.window)
            desk.keys("alt+1")
            until(lambda: next(state for step, state in self.steps(desk).items() if step.startswith("Draw the chain")) == "done",
                  lambda: f"drawn, of {self.steps(desk)}")

    def test_recent_books(self):
        book = self.place("evening.benchbook")
        subprocess.run([os.path.join(os.environ["SP_BUILD_ROOT"], "app", "spurproof-batch"), "pack", SAMPLE, "-o", book], check=True)
        with self.desk(book) as desk:
            desk.judged()
            self.assertIn("evening.benchbook", desk.window.get_name())
            desk.close()
        with self.desk(BLANK) as desk:
            row = until(lambda: next(among(desk.get("list", "Recent books"), "list item"), None), "a recent book")
            self.assertIn("Course evening, six kits", name(row))
            self.assertIn("7 conditions: at worst exceeds", name(row))
            desk.click(row, None)
            until(lambda: "evening.benchbook" in desk.window.get_name(), "it is opened")
            desk.close()
        with self.desk(BLANK) as desk:  # and from the menu
            button = until(lambda: next((one for one in among(desk.window, "push button", leave=("tree table",))
                                         if name(one) == "Menu" and has(one, Atspi.StateType.FOCUSABLE)), None), "the menu's button")
            act(button)
            items = lambda: [one for one, what in walk(button.get_parent()) if what.endswith("menu item")]  # noqa: E731
            act(until(lambda: next((one for one in items() if name(one) == "Course evening, six kits (evening.benchbook)"), None),
                      lambda: f"the book in the menu, of {[name(one) for one in items()]}"))
            until(lambda: "evening.benchbook" in desk.window.get_name(), "it is opened")

    def test_pages_without_a_radio_say_what_to_do(self):
        with self.desk(BLANK) as desk:
            for number, words, action in ((3, "How deep the analyzer sees", "Add a radio"), (4, "nothing to be compared", "Import sweeps"),
                                          (5, "nothing to be handed over", "Import sweeps")):
                desk.keys(f"alt+{number}")
                until(lambda: words in text(desk), words)
                self.assertTrue(desk.find("push button", action, desk.content()))

    def test_a_report_that_was_written_is_handed_out(self):
        report = self.place("report.xlsx")
        state = lambda desk: next((state for step, state in self.steps(desk).items() if step.startswith("Hand it out")), None)  # noqa: E731
        for written in (True, False):  # and it is known at the next start
            with self.desk(SAMPLE, home=self.place("home"), answers=[report]) as desk:
                desk.judged()
                if written:
                    desk.do("win.spreadsheet")
                    until(lambda: "report.xlsx is written." in text(desk), "it is written")
                desk.keys("F1")
                until(lambda: desk.find("list", "Topics"), "help")
                desk.keys(*"tick")
                until(lambda: desk.find("list", "The job"), "the steps")
                until(lambda: state(desk) == "done", lambda: f"handed out, not {state(desk)}")


class Help(Case):
    def test_there_and_back(self):
        with self.desk(SAMPLE) as desk:
            desk.judged()
            desk.keys("alt+2")
            desk.keys("F1")
            until(lambda: "You need a radio" in text(desk), "the first measurement")
            self.assertEqual(unnamed(desk.window), [])
            desk.keys("F1")
            until(lambda: has(desk.get("page tab", "Chain"), Atspi.StateType.SELECTED), "back to the chain")
            desk.keys("F1", "Down")
            until(lambda: "A verdict is one of five words" in text(desk), "the next topic")
            desk.keys("ctrl+F1")
            until(lambda: "burns the skin" in text(desk), "the cautions")
            desk.keys("Escape")
            until(lambda: has(desk.get("page tab", "Chain"), Atspi.StateType.SELECTED), "back to the chain")

    def test_words_are_found(self):
        """What is typed is looked for: only the topics with it stay, and the glossary shows what it means."""
        with self.desk(SAMPLE) as desk:
            desk.judged()
            desk.keys("F1")
            topics = desk.get("list", "Topics")
            every = until(lambda: len(children(topics)) > 5 and len(children(topics)), "the topics")
            desk.keys(*"mixer")
            until(lambda: 0 < len(children(topics)) < every, "fewer topics")
            desk.keys("Escape", *"difference")
            until(lambda: [name(one) for one in children(topics)] == ["Glossary"], lambda: [name(one) for one in children(topics)])
            until(lambda: "substitution" in labels(desk.content()) and "carrier" not in labels(desk.content()), "that word alone")

    def test_about(self):
        with open(os.path.join(ROOT, "meson.build"), encoding="utf-8") as file:
            version = re.search(r"version: '([\d.]+)'", file.read()).group(1)
        with self.desk(SAMPLE) as desk:
            desk.judged()
            desk.keys("shift+F1")
            about = desk.dialog("About")
            until(lambda: any(version in one for one in labels(about)), "the version")
            desk.keys("Escape", window=about)
            desk.gone(about)


class Why(Case):
    def test_the_walk_is_judges(self):
        """What it says of the deciding emission are judge's figures, and its sum adds up."""
        found = next(one for one in judge(SAMPLE) if one["radio"] == "Larquedon")
        deciding = min((e for e in found["emissions"] if e["verdict"] == found["verdict"]), key=lambda e: e["deciding_margin_db"])
        index = [one["radio"] for one in judge(SAMPLE)].index("Larquedon")
        with self.desk(SAMPLE) as desk:
            desk.judged()
            desk.choose(index)
            desk.keys("w")
            until(lambda: f"Why {found['verdict']}?" in text(desk), lambda: f"why, not {text(desk)[:200]}")
            self.assertEqual(unnamed(desk.window), [])
            said = text(desk).replace("\N{MINUS SIGN}", "-").replace("\N{NARROW NO-BREAK SPACE}", " ")
            total = re.search(r"(-?[\d.]+) \+([\d.]+)(?: ([+-][\d.]+))? = (-?[\d.]+) dBm", said)
            self.assertTrue(total, said)
            self.assertAlmostEqual(sum(float(part or 0) for part in total.groups()[:3]), float(total.group(4)), delta=0.0101)
            self.assertAlmostEqual(float(total.group(4)), deciding["level_dbm"], delta=0.0051)
            room = re.search(r"Room: (-?[\d.]+) - \(?(-?[\d.]+)\)? = ([+-][\d.]+) dB", said)
            self.assertAlmostEqual(float(room.group(1)) - float(room.group(2)), float(room.group(3)), delta=0.0101)
            self.assertAlmostEqual(float(room.group(3)), deciding["deciding_margin_db"], delta=0.0051)
            self.assertIn(f"U {deciding['margin_expanded_db']:.1f} dB", said)

    def test_another_emission(self):
        with self.desk(POCKET) as desk:
            desk.judged()
            desk.do("win.why")
            until(lambda: "What the analyzer read" in text(desk), "the walk")
            first = self.title(desk)
            desk.keys("Left")
            until(lambda: self.title(desk) not in (first, None), "another emission")
            desk.keys("Right")
            until(lambda: self.title(desk) == first, "and back")
            desk.keys("Escape")
            until(lambda: desk.find("image", "Spectrum") and "What the analyzer read" not in text(desk), "the chart again")
            until(lambda: any(has(one, Atspi.StateType.FOCUSED) for one, _ in walk(desk.content())), "the focus is on the page")

    def title(self, desk):
        return steady(lambda: next((one for one in labels(desk.content()) if one.startswith("Why ") and "?" in one and len(one) > 5), None))


if __name__ == "__main__":
    counted.main()
