#!/usr/bin/python3
"""The real window, led by a script, kills itself at its n-th write, sync, cut, rename, removal or opening of a file: afterwards every book opens
and is whole, holds what was told as saved or what came after it, reports are the old or the new ones, and nothing else is left.

20 kills in the ordinary run; 1,000 with SP_LONG. The logs of what the window did tell what may be there; nothing goes by the clock. How many events
a run has differs, for edits that come close together are saved together: a run that ends before its event is held to the same, and tried again.
"""
import os
import re
import shutil
import sqlite3
import subprocess
import sys
import tempfile
import unittest
import zipfile
from concurrent.futures import ThreadPoolExecutor

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
import counted  # noqa: E402

ROOT, BUILD = os.environ["SP_SOURCE_ROOT"], os.environ["SP_BUILD_ROOT"]
BATCH, DRIVEN, LOOK = (os.path.join(BUILD, *parts) for parts in (("app", "spurproof-batch"), ("tests", "faults", "driven"), ("tests", "faults", "look-at-books")))
SAMPLE = os.path.join(ROOT, "samples", "club.sheet")
KILLS = 1000 if os.environ.get("SP_LONG") else 20
LIMIT_S = 120  # of one start on a loaded machine; what hangs is a failure
AGAIN = 4  # runs at most for one kill
# A kill may leave a file that is whole and about to be renamed (core/quantity/file-write.c, GLib's for preferences); `tmp.XXXXXXXXXX` is the
# spreadsheet's library between the making and the unlinking of a file.
BESIDE = re.compile(r"^\.spurproof-\w{8}$|^[\w.-]+\.\w{6}$|^tmp\.\w{10}$")
ORPHANS = """SELECT (SELECT count(*) FROM used WHERE state NOT IN (SELECT ordinal FROM state)
  OR (sha256 NOT IN (SELECT sha256 FROM raw) AND sha256 NOT IN (SELECT sha256 FROM part)))
  + (SELECT count(*) FROM raw WHERE sha256 NOT IN (SELECT sha256 FROM used)) + (SELECT count(*) FROM part WHERE sha256 NOT IN (SELECT sha256 FROM used))"""

# {h}: the home of the round.
SCRIPTS = {
    "edits": (["{h}/evening.benchbook"], [], """
do win.duplicate
set temperature_c 25
saved
choose 2
do win.remove
set place Elsewhere
do win.undo
do win.undo
saved
do win.redo
set operator Somebody
saved
quit"""),
    "import": (["{h}/evening.benchbook"], ["{h}/Fennick-2m-keyed.csv;{h}/Gorsal-6m-keyed.csv"], """
import
saved
do win.undo
saved
do win.redo
saved
do win.undo
set place Elsewhere
saved
quit"""),
    "kept and saved as": ([SAMPLE], ["{h}/new.benchbook", "{h}/other.benchbook"], """
do win.duplicate
set temperature_c 25
do win.save-as
saved
do win.duplicate
saved
do win.save-as
saved
do win.undo
saved
quit"""),
    "reports": (["{h}/evening.benchbook"], ["{h}/report.xlsx", "{h}/chart.png", "{h}/new.pdf", "{h}/new.xlsx"], """
stands {h}/report.xlsx
do win.spreadsheet
new {h}/report.xlsx
set place Elsewhere
stands {h}/chart.png
do win.picture
new {h}/chart.png
stands {h}/new.pdf
do win.picture
new {h}/new.pdf
stands {h}/new.xlsx
do win.spreadsheet
new {h}/new.xlsx
saved
quit"""),
}


def is_whole(path):
    """A report's file that can be read to its end."""
    with open(path, "rb") as file:
        data = file.read()
    if path.endswith(".xlsx"):
        with zipfile.ZipFile(path) as book:
            return book.testzip() is None
    return data[-12:-4] == b"\0\0\0\0IEND" if path.endswith(".png") else data.rstrip().endswith(b"%%EOF")


class Round:
    """One start of the window in a home of its own."""

    def __init__(self, model, script, at, torn):
        self.home = os.path.join(tempfile.mkdtemp(prefix="kill", dir=model["scratch"]), "home")
        shutil.copytree(model["home"], self.home)
        arguments, answers, text = ([one.format(h=self.home) for one in part] if isinstance(part, list) else part.format(h=self.home).strip()
                                    for part in SCRIPTS[script])
        self.script, self.answers = text, answers
        script_path, self.log_path = (os.path.join(os.path.dirname(self.home), name) for name in ("script", "log"))
        with open(script_path, "w", encoding="utf-8") as file:
            file.write(text)
        env = dict(os.environ, XDG_CONFIG_HOME=os.path.join(self.home, "config"), XDG_DATA_HOME=os.path.join(self.home, "data"),
                   XDG_CACHE_HOME=os.path.join(model["scratch"], "cache"), TMPDIR=os.path.join(self.home, "tmp"), LC_ALL="C.UTF-8",
                   SP_SCRIPT=script_path, SP_LOG=self.log_path, SP_VICTIM=f"{at}{'/torn' if torn else ''} {self.home}",
                   SPURPROOF_TEST_ANSWER=":".join(answers), GTK_A11Y="none")
        self.run = subprocess.run([DRIVEN, *arguments], env=env, stdin=subprocess.DEVNULL, capture_output=True, text=True, timeout=LIMIT_S, check=False)
        with open(self.log_path, encoding="utf-8") as log:
            self.log = [line.split() for line in log]

    def remove(self):
        shutil.rmtree(os.path.dirname(self.home))

    def files(self):
        return [os.path.join(folder, name) for folder, _, names in os.walk(self.home) for name in names]

    def events(self):
        """Those of a run that came to its end."""
        return next(int(line[1]) for line in self.log if line[0] == "events")

    def after_steps(self):
        """The bench's hash after each line; -1 stands for the beginning."""
        hashes, step = {}, -1
        for line in self.log:
            if line[0] == "step":
                step = int(line[1])
            elif line[0] == "?":
                hashes[step] = line[1]
            elif line[0] == "=" and step < 0:
                hashes[-1] = line[1]
        return hashes


class Kills(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        memory = "/dev/shm"  # a kill loses nothing of what was written: a disk would only be waited for
        scratch = tempfile.mkdtemp(prefix="kills", dir=memory if os.access(memory, os.W_OK) else None)
        cls.addClassCleanup(shutil.rmtree, scratch, True)
        home = os.path.join(scratch, "model")
        os.makedirs(os.path.join(home, "config", "spurproof"))
        os.makedirs(os.path.join(home, "tmp"))
        with open(os.path.join(home, "config", "spurproof", "preferences"), "w", encoding="utf-8") as file:
            file.write("[window]\ntheme=light\nhint=read\n")
        for name in ("evening", "other"):
            subprocess.run([BATCH, "pack", SAMPLE, "-o", os.path.join(home, name + ".benchbook")], check=True)
        for made, of in (("Fennick-2m-keyed.csv", "tulvannick.csv"), ("Gorsal-6m-keyed.csv", "zelbridor.csv")):
            with open(os.path.join(ROOT, "samples", "raw", of), "rb") as file, open(os.path.join(home, made), "wb") as copy:
                copy.write(file.read() + b"\n")
        subprocess.run([BATCH, "report", SAMPLE, "-o", os.path.join(home, "report.xlsx")], check=True)
        subprocess.run([BATCH, "draw", SAMPLE, "-o", os.path.join(home, "chart.png")], check=True)
        cls.model = {"scratch": scratch, "home": home}
        cls.old = {name: cls.bytes_of(os.path.join(home, name)) for name in ("report.xlsx", "chart.png")}

    @staticmethod
    def bytes_of(path):
        with open(path, "rb") as file:
            return file.read()

    def check_books(self, told, when, expected):
        books = sorted(path for path in told.files() if path.endswith(".benchbook") and not os.path.basename(path).startswith("."))
        run = subprocess.run([LOOK, *books], capture_output=True, text=True, check=False)
        self.assertNotIn("-\n", run.stdout, f"{when}: {run.stderr}")
        held = dict(zip(books, run.stdout.split()))
        self.assertEqual(len(held), len(books), f"{when}: {run.stderr}")
        for path in books:
            with sqlite3.connect(f"file:{path}?mode=rw", uri=True) as database:
                self.assertEqual(database.execute("PRAGMA integrity_check").fetchall(), [("ok",)], f"{when}: {path}")
                self.assertEqual(database.execute(ORPHANS).fetchone()[0], 0, f"{when}: {path}")
            database.close()
            self.assertIn(held[path], {*expected.values(), *self.start}, f"{when}: {path}")
        begun, saved = -1, None
        for line in told.log:
            if line[0] == "step":
                begun = int(line[1])
            elif line[0] == "=":
                saved, last, where = begun, line[1], " ".join(line[2:])
        if saved is not None:  # else nothing was told as saved
            may = {last, *(expected[i] for i in expected if saved <= i <= begun)}
            places = {where, *(self.moves_to(told, saved, begun) if where not in held else ())}
            self.assertTrue(any(held.get(place) in may for place in places), f"{when}: {where} lost what was told as saved: {told.log}")

    @staticmethod
    def moves_to(told, saved, begun):
        """A kept book goes away once Save as has put it where the user named: until that is told it may stand there alone."""
        lines = told.script.splitlines()
        return told.answers if "do win.save-as" in lines[max(saved, 0):begun + 1] else ()

    def check_reports(self, told, when):
        for name in ("report.xlsx", "chart.png", "new.pdf", "new.xlsx"):
            path = os.path.join(told.home, name)
            if os.path.exists(path):
                self.assertTrue(self.bytes_of(path) == self.old.get(name) or is_whole(path), f"{when}: {name}")
            else:
                self.assertNotIn(name, self.old, when)

    def check_leftovers(self, told, when):
        """After the books were opened again."""
        known = {os.path.join(self.model["home"], name) for name in os.listdir(self.model["home"])}
        left = 0
        for path in told.files():
            name, inside = os.path.basename(path), os.path.relpath(path, told.home)
            if os.path.join(self.model["home"], inside) in known or inside.startswith("config/spurproof/preferences"):
                continue
            if name in ("new.benchbook", "new.pdf", "new.xlsx") or (inside.startswith("data/") and name.endswith(".benchbook")):
                continue
            if name.endswith(".benchbook-journal") and not name.startswith("."):
                self.assertEqual(os.path.getsize(path), 0, f"{when}: {inside}")
                continue
            self.assertRegex(name, BESIDE, f"{when}: {inside} is left")
            left += not name.endswith("-journal")
        self.assertLessEqual(left, 2, f"{when}: {told.files()}")
        return left

    def one(self, script, place, torn, expected):
        """Whether it was killed, how many runs ended before it, and how many files were left beside. `place` is among the first run's events, from 0."""
        events = self.events[script]
        for before in range(AGAIN):
            at = place * events // self.events[script] + 1
            when = f"{script}, event {at}{', torn' if torn else ''}"
            told = Round(self.model, script, at, torn)
            left = self.check(told, when, expected)
            if told.run.returncode == -9:
                return True, before, left
            self.assertEqual((told.run.returncode, told.run.stderr, left), (0, "", 0), when)
            events = told.events()
            self.assertLess(events, at, f"{when}: it ended, and was not killed")
            self.assertGreater(events, self.events[script] // 2, when)
        return False, AGAIN, left

    def check(self, told, when, expected):
        self.assertFalse(any(line[0] == "!" for line in told.log), f"{when}: {told.log}")
        self.check_books(told, when, expected)
        self.check_reports(told, when)
        left = self.check_leftovers(told, when)
        told.remove()
        return left

    def test_killed(self):
        tries, sight = [], {}
        self.start, self.events = set(), {}
        for script in SCRIPTS:
            whole = Round(self.model, script, 0, False)
            self.assertEqual((whole.run.returncode, whole.run.stderr), (0, ""), f"{script}: {whole.log}")
            self.assertEqual(whole.log[-1][0] in ("done", "="), True, f"{script}: {whole.log}")
            self.events[script] = whole.events()
            sight[script] = whole.after_steps()
            whole.remove()
        run = subprocess.run([LOOK, *(os.path.join(self.model["home"], name + ".benchbook") for name in ("evening", "other"))], capture_output=True,
                             text=True, check=True)
        self.start = set(run.stdout.split())
        per = KILLS // len(SCRIPTS)
        for number, (script, expected) in enumerate(sight.items()):
            # all over its events, each place whole before torn
            events = self.events[script]
            step = max(events / per, 1)
            tries += [(script, int(1 + number % 2 + i * step) % events, i * step >= events or i % 5 == 4, expected) for i in range(per)]
        with ThreadPoolExecutor(2) as pool:
            killed, before, left = zip(*pool.map(lambda one: self.one(*one), tries))
        print(f"kills: {sum(killed)} of {len(tries)}, at events of {', '.join(f'{name}: {events}' for name, events in self.events.items())}; "
              f"{sum(before)} runs ended before theirs; {sum(1 for n in left if n)} left a file written beside", file=sys.stderr)
        self.assertGreaterEqual(sum(killed), 0.95 * len(tries))


if __name__ == "__main__":
    counted.main()
