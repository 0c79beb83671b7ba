#!/usr/bin/python3
"""What becomes of a book: told truly whether it is saved, tried again, kept without a name from its first edit, never replaced without a question."""
import os
import shutil
import signal
import sqlite3
import subprocess
import sys
import tempfile
import unittest
import zipfile

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path[:0] = [HERE, os.path.join(HERE, "..")]
import counted  # noqa: E402
from desk import BATCH, BUILD, SAMPLE, Atspi, act, among, children, has, labels, role, until, written  # noqa: E402
from looks import unnamed  # noqa: E402
from window import Case, judge  # noqa: E402

PICTURES = os.path.join(BUILD, "window-pictures")
RADIOS = ("Alder", "Birch", "Cedar")
FEW = os.path.join(tempfile.mkdtemp(prefix="few"), "few.sheet")


def setUpModule():
    """A bench that is quickly judged and drawn, for what becomes of a book asks for no more: the sample's, with one short sweep under three names."""
    unittest.addModuleCleanup(shutil.rmtree, os.path.dirname(FEW))
    folder = os.path.dirname(SAMPLE)
    with open(SAMPLE, encoding="utf-8") as file:
        bench = file.read().split("\n[radio")[0].replace("=club.", f"={folder}/club.")
    with open(FEW, "w", encoding="utf-8") as file:
        file.write(bench)
        for one in RADIOS:
            file.write(f"\n[radio {one}]\n[condition {one}/2 m]\nfundamental=147.03MHz\nrated_w=5\nmode=FM\nkeyed={folder}/raw/brundlow.dat\n")


def whole(book):
    with sqlite3.connect(f"file:{book}?mode=ro", uri=True) as database:
        return database.execute("PRAGMA integrity_check").fetchall() == [("ok",)]


def names_in(book):
    return ["/".join(part for part in (found["radio"], found["condition"]) if part) for found in judge(book)]


class Keep(Case):
    def kept(self, ending=".benchbook"):
        """The books without a name, as files; what a kill may have left beside is not among them."""
        folder = self.place("home", "data", "spurproof", "books")
        return sorted(os.path.join(folder, one) for one in os.listdir(folder) if one.endswith(ending) and one[0] != ".") if os.path.isdir(folder) else []

    def duplicate(self, desk, index=1):
        desk.choose(index)
        before = len(desk.names())
        desk.do("win.duplicate")
        until(lambda: len(desk.names()) == before + 1, "duplicated")

    def book(self, called="evening.benchbook"):
        """Of them."""
        path = self.place(called)
        os.makedirs(os.path.dirname(path), exist_ok=True)
        subprocess.run([BATCH, "pack", FEW, "-o", path], check=True)
        return path

    def answer(self, desk, question, button):
        dialog = desk.dialog(question)
        self.assertEqual(unnamed(dialog), [])
        words = " ".join(labels(dialog))
        act(desk.get("push button", button, dialog))
        desk.gone(dialog)
        return words

    def close(self, desk):
        act(desk.window, "window.close")

    def show(self, desk, called, window=None):
        """A picture to be looked at."""
        os.makedirs(PICTURES, exist_ok=True)
        with open(os.path.join(PICTURES, called + ".png"), "wb") as file:
            file.write(subprocess.run(["convert", "ppm:-", "png:-"], input=desk.picture(window), capture_output=True, check=True).stdout)


class Failing(Keep):
    def test_full_disk_is_told_once_and_tried_again(self):
        book = self.book()
        with self.desk(book) as desk:
            until(lambda: len(desk.radios()) == len(RADIOS), "the book")
            desk.full(True)
            self.duplicate(desk)
            said = until(desk.unsaved, "the bar says that it is not saved")
            self.assertIn("evening.benchbook", said)
            self.assertEqual(desk.state(), "not saved")
            self.assertIsNone(desk.bar(), "told once, in one bar")
            self.duplicate(desk)
            until(lambda: desk.state() == "not saved", "still not")
            self.assertEqual(desk.unsaved(), said)
            self.assertEqual(len(names_in(book)), len(RADIOS))
            desk.full(False)
            until(lambda: desk.unsaved() is None and desk.state() == "saved", "saved by itself, and the bar goes")
            self.assertEqual(names_in(book), desk.names())
            desk.close()

    def test_closing_without_saving(self):
        book = self.book()
        with self.desk(book) as desk:
            desk.full(True)
            self.duplicate(desk)
            until(desk.unsaved, "not saved")
            self.close(desk)
            words = self.answer(desk, "This bench book cannot be saved", "Cancel")
            self.assertIn("evening.benchbook", words)
            self.assertEqual(len(desk.names()), len(RADIOS) + 1)
            self.close(desk)
            self.answer(desk, "This bench book cannot be saved", "Close without saving")
            desk.ends()
        self.assertTrue(whole(book))
        self.assertEqual(len(names_in(book)), len(RADIOS))

    def test_nameless_and_full(self):
        with self.desk(FEW) as desk:
            desk.full(True)
            self.duplicate(desk)
            said = until(desk.unsaved, "the bar says that it is not kept")
            self.assertIn("Save it elsewhere", said, "and what to do")
            self.close(desk)  # which tries again
            self.answer(desk, "This bench book cannot be saved", "Cancel")
            self.assertEqual(desk.unsaved(), said, "the same place each time, told once")
            desk.full(False)
            until(lambda: desk.state() == "kept, no name" and not desk.unsaved(), "kept by itself")
            book, = self.kept("")
            self.assertEqual(names_in(book), desk.names())

    def test_closing_with_saving_elsewhere(self):
        book, other = self.book(), self.place("other")
        with self.desk(book, answers=[other]) as desk:
            os.unlink(book)
            self.duplicate(desk)
            said = until(desk.unsaved, "not saved")
            self.assertIn("evening.benchbook", said)
            self.assertEqual(desk.state(), "not saved")
            self.close(desk)
            self.answer(desk, "This bench book cannot be saved", "Save as")
            desk.ends()
        self.assertEqual(len(names_in(other + ".benchbook")), len(RADIOS) + 1)
        self.assertFalse(os.path.exists(book), "nothing is made where the book stood")

    def test_replaced_file_is_not_written_to(self):
        book, other = self.book(), self.place("elsewhere.benchbook")
        stranger = self.book("stranger.benchbook")
        with self.desk(book, answers=[other]) as desk:
            self.duplicate(desk)
            until(lambda: desk.state() == "saved", "saved")
            os.rename(stranger, book)
            with open(book, "rb") as file:
                before = file.read()
            self.duplicate(desk)
            until(lambda: desk.state() == "not saved", "not saved")
            act(desk.get("push button", "Save as", within=desk.content()))
            until(lambda: desk.state() == "saved" and not desk.unsaved(), "saved elsewhere")
            names = desk.names()
            with open(book, "rb") as file:
                self.assertTrue(file.read() == before, "what stood there by then is as it was")
            desk.keys("ctrl+z", "ctrl+z")
            until(lambda: len(desk.names()) == len(RADIOS), "with all its history")
            desk.keys("ctrl+shift+z", "ctrl+shift+z")
            until(lambda: desk.names() == names, "both ways")
            until(lambda: desk.state() == "saved", "saved")
            desk.close()
        self.assertEqual(names_in(other), names)

    def test_opening_drops_nothing(self):
        book, second = self.book(), self.book("second.benchbook")
        with self.desk(book, answers=[second]) as desk:
            os.unlink(book)
            self.duplicate(desk)
            until(desk.unsaved, "not saved")
            desk.do("win.open")
            until(lambda: desk.dialog("") and len(children(desk.application)) == 2, "the other book gets a window of its own")
            self.assertEqual((len(desk.names()), desk.state()), (len(RADIOS) + 1, "not saved"))


class Asked(Keep):
    def test_an_ending_that_is_added(self):
        self.book()
        with open(self.place("evening.benchbook"), "rb") as file:
            before = file.read()
        with self.desk(FEW, answers=[self.place("evening")] * 2) as desk:
            desk.do("win.save-as")
            words = self.answer(desk, "“evening.benchbook” is there already", "Cancel")
            self.assertIn(self.folder, words)
            with open(self.place("evening.benchbook"), "rb") as file:
                self.assertTrue(file.read() == before, "as it was")
            self.assertEqual(desk.state(), "not saved yet")
            self.duplicate(desk)
            desk.do("win.save-as")
            self.answer(desk, "“evening.benchbook” is there already", "Replace")
            until(lambda: desk.state() == "saved", "replaced")
            names = desk.names()
            desk.close()
        self.assertEqual(names_in(self.place("evening.benchbook")), names)
        self.assertEqual(self.kept(), [])

    def test_what_is_no_book_stays(self):
        with open(self.place("letter.benchbook"), "w", encoding="utf-8") as file:
            file.write("Dear friend\n")
        with self.desk(FEW, answers=[self.place("letter")]) as desk:
            desk.do("win.save-as")
            self.answer(desk, "“letter.benchbook” is there already", "Replace")
            until(lambda: desk.bar() and "letter.benchbook" in desk.bar() and "another name" in desk.bar(), "refused, and said")
            self.assertEqual(desk.state(), "not saved yet")
        with open(self.place("letter.benchbook"), encoding="utf-8") as file:
            self.assertEqual(file.read(), "Dear friend\n")

    def test_a_spreadsheet(self):
        with open(self.place("report.xlsx"), "w", encoding="utf-8") as file:
            file.write("another's")
        with self.desk(FEW, answers=[self.place("report")] * 2) as desk:
            until(desk.radios, "judged")
            desk.do("win.spreadsheet")
            self.answer(desk, "“report.xlsx” is there already", "Cancel")
            desk.do("win.spreadsheet")
            self.answer(desk, "“report.xlsx” is there already", "Replace")
            until(lambda: zipfile.is_zipfile(self.place("report.xlsx")), "replaced")


class Nameless(Keep):
    def test_killed_offered_opened_and_named(self):
        named = self.place("evening.benchbook")
        with self.desk(FEW) as desk:
            self.assertEqual((desk.state(), self.kept()), ("not saved yet", []))
            self.duplicate(desk)
            until(lambda: desk.state() == "kept, no name", "kept with its first edit")
            book, = self.kept()
            self.assertEqual(os.stat(os.path.dirname(book)).st_mode & 0o777, 0o700)
            names = desk.names()
        with self.desk(answers=[named]) as desk:  # after a kill
            said = until(desk.offered, "it is offered")
            self.assertIn("1 bench book without a name is kept", said)
            act(desk.get("push button", "Look", within=desk.content()))
            dialog = desk.dialog("Books without a name")
            until(lambda: desk.find("list item", within=dialog), "it is listed")
            self.assertEqual(unnamed(dialog), [])
            act(desk.get("push button", "Open", dialog))
            until(lambda: desk.names() == names, "it is there again")
            self.assertEqual(desk.state(), "kept, no name")
            self.assertIsNone(desk.offered())
            self.duplicate(desk)
            desk.do("win.save-as")
            until(lambda: desk.state() == "saved", "it has a name")
            self.assertEqual(self.kept(""), [], "and is not kept twice")
            names = desk.names()
            desk.keys("ctrl+z", "ctrl+z")
            until(lambda: len(desk.names()) == len(RADIOS), "with its history")
            desk.keys("ctrl+shift+z", "ctrl+shift+z")
            until(lambda: desk.names() == names and desk.state() == "saved", "both ways")
            desk.close()
        self.assertEqual(names_in(named), names)
        with self.desk() as desk:
            until(lambda: desk.names() == names, "the named one")
            desk.keys("ctrl+shift+o")
            dialog = desk.dialog("Books without a name")
            until(lambda: any("is waiting" in one for one in labels(dialog)), "no other")
            self.assertIsNone(desk.offered())

    def test_closing_asks_nothing_and_leaves_it(self):
        with self.desk(FEW) as desk:
            self.duplicate(desk)
            names = desk.names()
            desk.close()  # at once
        book, = self.kept()
        self.assertEqual(names_in(book), names)

    def test_unedited_leaves_nothing(self):
        with self.desk(FEW) as desk:
            until(desk.radios, "judged")
            desk.choose(2)
            desk.keys("ctrl+n")
            other = desk.dialog()
            act(other, "window.close")
            desk.gone(other)
            desk.close()
        self.assertEqual(self.kept(""), [])

    def test_two_programs_share_none(self):
        with self.desk(FEW) as desk:
            self.duplicate(desk)
            until(lambda: desk.state() == "kept, no name", "kept")
            with self.desk(FEW) as second:
                self.duplicate(second, 2)
                until(lambda: second.state() == "kept, no name", "kept")
                self.assertEqual(len(self.kept()), 2)
                second.keys("ctrl+shift+o")
                dialog = second.dialog("Books without a name")
                until(lambda: any("is waiting" in one for one in labels(dialog)), "those that are open are not offered")
                self.assertIsNone(second.offered())
            self.duplicate(desk)
            until(lambda: desk.state() == "kept, no name", "kept")
            names = desk.names()
        self.assertIn(names, [names_in(one) for one in self.kept()])

    def test_put_away_and_back(self):
        for index in (1, 2):
            with self.desk(FEW) as desk:
                self.duplicate(desk, index)
                desk.close()
        with self.desk(theme="dark") as desk:
            desk.resize(1024, 640)
            self.assertIn("2 bench books without a name are kept", until(desk.offered, "both are offered"))
            later = max(os.stat(one).st_mtime for one in self.kept()) + 2  # the latest stands first, to the second
            notes = os.path.join(os.path.dirname(self.kept()[0]), "notes.benchbook")
            with open(notes, "w", encoding="utf-8") as file:
                file.write("no book\n")
            os.utime(notes, (later, later))
            desk.keys("ctrl+shift+o")
            dialog = desk.dialog("Books without a name")

            def rows():
                return [one for one in children(desk.get("list", "Books without a name", dialog)) if role(one) == "list item"]
            until(lambda: len(rows()) == 3, "all are listed")
            self.assertTrue(any("not a bench book" in one for one in labels(dialog)), "and what is wrong with one")
            until(lambda: not has(desk.get("push button", "Open", dialog), Atspi.StateType.SENSITIVE), "which cannot be opened")
            act(desk.get("push button", "Put away", dialog))
            until(lambda: len(rows()) == 2, "it is put away")
            desk.keys("Delete", window=dialog)
            until(lambda: len(rows()) == 1, "one is put away")
            self.assertEqual((len(self.kept()), len(self.kept("~"))), (1, 2))
            act(desk.get("push button", "Put back", dialog))
            until(lambda: len(rows()) == 2, "and back")
            act(desk.get("push button", "Put away", dialog))
            until(lambda: len(rows()) == 1, "away")
        with self.desk() as desk:
            self.assertIn("1 bench book", until(desk.offered, "the other is offered"))

    def test_kept_ones_folder_tidied_up(self):
        with self.desk(FEW) as desk:
            self.duplicate(desk)
            until(lambda: desk.state() == "kept, no name", "kept")
            shutil.rmtree(self.place("home", "data", "spurproof"))
            self.duplicate(desk)
            names = desk.names()
            until(lambda: self.kept() and names_in(self.kept()[0]) == names, "kept anew")
            self.assertIsNone(desk.unsaved())
            first, = self.kept()
            os.rename(self.book("stranger.benchbook"), first)
            self.duplicate(desk)
            until(lambda: len(self.kept()) == 2 and desk.state() == "kept, no name", "kept anew again")
            self.assertEqual(len(names_in(first)), len(RADIOS), "what stands there by now is nobody's to take away")

    def test_no_place_to_keep(self):
        with open(self.place("home-data"), "w", encoding="utf-8"):
            pass
        os.makedirs(self.place("home"))
        os.symlink(self.place("home-data"), self.place("home", "data"))
        with self.desk(FEW, answers=[self.place("evening")]) as desk:
            self.duplicate(desk)
            self.assertIn("Save it elsewhere", until(desk.unsaved, "it is told that it cannot be kept"), "and what to do")
            self.assertEqual(desk.state(), "not saved")
            act(desk.get("push button", "Save as", within=desk.content()))
            until(lambda: desk.state() == "saved" and not desk.unsaved(), "saved")
            desk.close()


@unittest.skipUnless(os.environ.get("SP_LONG"), "pictures to be looked at: only with SP_LONG")
class Pictures(Keep):
    def through(self, theme):
        self.book("evening.benchbook")
        self.book(os.path.join("home", "data", "spurproof", "books", "11111111-2222-4333-8444-555555555555.benchbook"))
        with self.desk(SAMPLE, answers=[self.place("evening")], theme=theme) as desk:
            desk.resize(1024, 640)
            until(lambda: desk.offered() and desk.radios(), "the window as it starts")
            self.show(desk, f"kept-bar-{theme}")
            desk.keys("ctrl+shift+o")
            dialog = desk.dialog("Books without a name")
            until(lambda: desk.find("list item", within=dialog), "one is listed")
            self.show(desk, f"kept-dialog-{theme}", dialog)
            desk.keys("Escape", window=dialog)
            desk.gone(dialog)
            desk.do("win.save-as")
            dialog = desk.dialog("“evening.benchbook” is there already")
            self.show(desk, f"replace-{theme}", dialog)
            desk.keys("Escape", window=dialog)
            desk.gone(dialog)
            desk.full(True)
            self.duplicate(desk)
            until(desk.unsaved, "it cannot be kept")
            self.show(desk, f"unsaved-bar-{theme}")
            self.close(desk)
            dialog = desk.dialog("This bench book cannot be saved")
            self.show(desk, f"unsaved-question-{theme}", dialog)

    def test_light(self):
        self.through("light")

    def test_dark(self):
        self.through("dark")


class Named(Keep):
    def test_a_path_that_is_no_utf8(self):
        """Read by a screen reader, edited, saved; the state's description tells the path, its byte as it can be given."""
        folder = os.fsencode(self.place("")) + b"Me\xdfplatz"
        os.mkdir(folder)
        book = os.path.join(folder, b"b\xe9la.benchbook")
        shutil.copy(self.book(), book)
        with self.desk(os.fsdecode(book)) as desk:
            desk.choose(1)
            self.assertEqual(desk.state(), "saved")
            described = [one.get_description() or "" for one in among(desk.window, "label")]
            self.assertTrue(any("Me%DFplatz/b%E9la.benchbook" in one for one in described), described)
            self.duplicate(desk)
            until(lambda: desk.state() == "saved", "it is saved")
        self.assertEqual(len(names_in(os.fsdecode(book))), len(RADIOS) + 1)


class Told(Keep):
    """To end, by a signal: nothing is asked, nothing is lost."""

    def test_with_something_typed_and_no_name(self):
        with self.desk(FEW) as desk:
            desk.keys("alt+2")
            desk.get("list", "Stages")
            desk.keys("F2")
            dialog = desk.dialog()
            owner = desk.get("text", "owner", dialog)
            desk.click(owner, dialog)
            until(lambda: has(owner, Atspi.StateType.FOCUSED), "the owner has the focus")
            desk.keys("ctrl+a", "x", "y", "z", window=dialog)
            until(lambda: written(owner) == "xyz", "it is typed, and not entered")
            desk.told(signal.SIGTERM)
        book, = self.kept("")
        with sqlite3.connect(f"file:{book}?mode=ro", uri=True) as database:
            self.assertTrue(any("xyz" in text for text, in database.execute("SELECT sheet FROM state UNION SELECT text FROM part")))

    def test_at_once_after_an_edit(self):
        book = self.book()
        self.addCleanup(signal.signal, signal.SIGHUP, signal.signal(signal.SIGHUP, signal.SIG_DFL))  # whoever started the tests may ignore it
        with self.desk(book) as desk:
            desk.choose(1)
            desk.do("win.duplicate")
            desk.told(signal.SIGHUP)
        self.assertFalse(os.path.exists(book + "-journal"), "a journal, though it was saved")
        self.assertTrue(whole(book))
        self.assertEqual(len(names_in(book)), len(RADIOS) + 1)

    def test_on_a_full_disk(self):
        book = self.book()
        self.addCleanup(signal.signal, signal.SIGHUP, signal.signal(signal.SIGHUP, signal.SIG_IGN))
        self.addCleanup(signal.signal, signal.SIGINT, signal.signal(signal.SIGINT, signal.default_int_handler))
        with self.desk(book) as desk:
            desk.full(True)
            desk.program.send_signal(signal.SIGHUP)  # which whoever started it had it ignore
            self.duplicate(desk)
            until(desk.unsaved, "not saved")
            desk.told(signal.SIGINT)
        self.assertTrue(whole(book))
        self.assertEqual(len(names_in(book)), len(RADIOS))


if __name__ == "__main__":
    counted.main()
