#!/usr/bin/python3
"""One bench book, two programs and two windows: one holds it, the others are told who, may look, and never write; nobody's edits are lost."""
import os
import sqlite3
import subprocess
import sys
import tempfile
import shutil
import unittest

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path[:0] = [os.path.join(HERE, "..", "window"), os.path.join(HERE, "..")]
import counted  # noqa: E402
from desk import BATCH, SAMPLE, Desk, until  # noqa: E402

ROUNDS = 12 if os.environ.get("SP_LONG") else 1


def look(book):
    run = subprocess.run([BATCH, "judge", book], capture_output=True, text=True, check=False)
    return run.returncode in (0, 1), run.stderr


class Programs(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.mkdtemp(prefix="programs")
        self.addCleanup(shutil.rmtree, self.folder)
        self.book = os.path.join(self.folder, "evening.benchbook")
        subprocess.run([BATCH, "pack", SAMPLE, "-o", self.book], check=True)

    def desk(self, name, *arguments, **more):
        desk = Desk(*arguments, home=os.path.join(self.folder, name), **more)
        self.addCleanup(desk.kill)
        return desk

    def states(self, book):
        with sqlite3.connect(f"file:{book}?mode=ro", uri=True) as database:
            self.assertEqual(database.execute("PRAGMA integrity_check").fetchall(), [("ok",)])
            return database.execute("SELECT count(*) FROM state").fetchone()[0]

    def edit(self, desk, row=0):
        n = len(desk.names())
        desk.choose(row)
        desk.do("win.duplicate" if n < 9 else "win.remove")
        until(lambda: len(desk.names()) != n, "edited")

    def test_two_programs(self):
        """The second is told at once and gets a copy; after that, and after another look of its own, the first still has its lock."""
        edits = 0
        with self.desk("a", self.book, answers=[self.book] * ROUNDS) as first:
            for i in range(ROUNDS):
                self.edit(first)
                edits += 1
                with self.desk(f"b{i}", self.book) as second:
                    said = until(second.bar, "who has it")
                    self.assertIn("evening.benchbook", said)
                    self.assertEqual(second.state(), "a copy")
                    self.edit(second)
                    until(lambda: second.state() == "kept, no name", "the copy is a book of its own")
                first.do("win.moves")  # its own book, looked at again
                moves = first.dialog()
                first.keys("Escape", window=moves)
                first.gone(moves)
                good, said = look(self.book)
                self.assertTrue(good, said)
                self.edit(first)
                edits += 1
                until(lambda: first.state() == "saved", "saved")
            shown = first.names()
            first.close()
        self.assertEqual(self.states(self.book), 1 + edits)
        with self.desk("c", self.book) as third:
            until(lambda: third.names() == shown, lambda: f"{shown}, not {third.names()}")
            third.close()

    def test_another_program_writes(self):
        """Who does not ask for the lock: SQLite's own, and the command line's pack over it. Neither gets in."""
        with self.desk("a", self.book) as first:
            self.edit(first)
            until(lambda: first.state() == "saved", "saved")
            with self.assertRaises(sqlite3.OperationalError):
                other = sqlite3.connect(self.book, timeout=0)
                other.execute("DELETE FROM state")
            other.close()
            run = subprocess.run([BATCH, "pack", SAMPLE, "-o", self.book], capture_output=True, text=True, check=False)
            self.assertEqual((run.returncode, "evening.benchbook" in run.stderr), (1, True), run.stderr)
            self.edit(first)
            until(lambda: first.state() == "saved", "saved")
            first.close()
        self.assertEqual(self.states(self.book), 3)

    def test_two_at_once(self):
        """Both started with the same book at the same moment: one has it, the other is told; whoever has it saves."""
        with self.desk("a", self.book) as one, self.desk("b", self.book) as two:
            until(lambda: one.bar() or two.bar(), "one of them is told")
            holder = two if one.bar() else one
            self.assertIn("evening.benchbook", (one if holder is two else two).bar())
            self.assertIsNone(holder.bar())
            self.edit(holder)
            until(lambda: holder.state() == "saved", "saved")
            holder.close()
        self.assertEqual(self.states(self.book), 2)


if __name__ == "__main__":
    counted.main()
