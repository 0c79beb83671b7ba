#!/usr/bin/python3
"""A whole evening of twelve radios in two bands: the list, the watched folder, the card. One keys and exports, the other presses KEYS_MOST keys; killed twice
in between. The book is held against the one that the same files give by import."""
import json
import os
import random
import subprocess
import sys
import time
import unittest

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path[:0] = [HERE, os.path.join(HERE, "..")]
import counted  # noqa: E402
from desk import ROOT, act, labels, until  # noqa: E402
from window import Case  # noqa: E402

BLANK = os.path.join(ROOT, "samples", "blank.sheet")
RADIOS = [f"{name}{number}" for name in ("Aldrick", "Bremmer", "Corvane") for number in (1, 2, 3, 4)]
BANDS = {"2m": ("2 m", 145.6), "70cm": ("70 cm", 433.5)}
KEYS_MOST = 30  # for the list, the folder, two starts anew and six re-takes; nothing for a radio


def export(name, band, attenuation, *, keyed=True, settings=True):
    """An invented trace: noise, the carrier and a second harmonic that stays where it is with more attenuation; no two files are alike."""
    noise = random.Random(name)
    carrier = BANDS[band][1]
    head = ["Start,30 MHz", "Stop,1530 MHz"] + (["RBW,1 MHz", f"Attenuation,{attenuation} dB"] if settings else []) + [
        "Reference level,10 dBm", "Detector,Positive peak", "Points,751", "Frequency (MHz),Level (dBm)"]
    rows = []
    for i in range(751):
        f = 30 + 2 * i
        level = -85 + attenuation / 2 + noise.uniform(-1, 1)
        for order, height in ((1, -4), (2, -64)) if keyed else ():
            level = max(level, height - 12 * (f - order * carrier) ** 2)
        rows.append(f"{f},{level:.2f}")
    return "\n".join(head + rows) + "\n"


def evening():
    """(file's name, its text), in the order in which they are written; what stands in one list is written at once."""
    for radio in RADIOS:
        for band in BANDS:
            yield [(f"{radio}_{band}.csv", export(f"{radio}{band}", band, 20))]
            yield [(f"{radio}_{band}_step10.csv", export(f"{radio}{band}s", band, 30))]
        if radio.endswith("3"):
            yield [(f"{radio}_{band}_again.csv", export(f"{radio}{band}a{i}", band, 20)) for i, band in enumerate(BANDS)]
        if radio.endswith("4") or radio == RADIOS[0]:
            yield [(f"{radio}_2m_keyup.csv", export(f"{radio}u", "2m", 20, keyed=False))]
    yield [("broken.csv", "Frequency (MHz),Level (dBm)\n30,\n"), (f"{RADIOS[0]}_2m_bare.csv", export("bare", "2m", 20, settings=False))]


def of(book):
    """What stands in it: purpose and exported bytes of the sweeps of each condition."""
    done = subprocess.run([os.path.join(os.environ["SP_BUILD_ROOT"], "app", "spurproof-batch"), "judge", book, "--json"], check=True,
                          capture_output=True, text=True)
    return {one["name"]: one for one in json.loads(done.stdout)["radios"]}


def sweeps(found):
    return sorted((one["purpose"], os.path.basename(one["file"])) for one in found["sweeps"])


class Evening(Case):
    pressed = 0

    def press(self, desk, *keys, **more):
        self.pressed += len(keys)
        desk.keys(*keys, **more)

    def write(self, files):
        for name, text in files:
            with open(self.place("exports", name), "w", encoding="utf-8") as file:
                file.write(text)

    def watch(self, desk):
        self.press(desk, "ctrl+shift+w", does="win.watch")
        until(lambda: any("from now on" in words for words in labels(desk.content())), "the folder is watched")

    def begin(self, book):
        """A list, typed beforehand, gives twelve radios and 24 conditions; the folder is watched."""
        with open(self.place("list.csv"), "w", encoding="utf-8") as file:
            file.write("radio,owner,conditions\n" + "".join(f'{radio},Owner of {radio},"2 m, 70 cm"\n' for radio in RADIOS))
        desk = self.desk(book, answers=[self.place("list.csv"), self.place("exports")])
        self.press(desk, "ctrl+t", does="win.list")
        form = desk.dialog()
        self.press(desk, "alt+f", window=form)
        until(lambda: any(words.startswith("12 radios") for words in labels(form)), "twelve radios are understood")
        self.press(desk, "ctrl+Return", window=form)
        desk.gone(form)
        until(lambda: len(desk.radios()) == 24, "24 rows")
        self.watch(desk)
        return desk

    def again(self, book):
        desk = self.desk(book, answers=[self.place("exports")])
        self.watch(desk)
        return desk

    def taken(self, book):
        """How many sweeps are saved by now; None: just then it was being written, and that lasted longer than a reader waits."""
        try:
            return sum(len(one["sweeps"]) for one in of(book).values())
        except subprocess.CalledProcessError as error:
            self.assertIn("has this bench book open", error.stderr)
            return None

    def imported(self, book):
        """The same files by the import window, into a book with the same list."""
        desk = self.desk(book, home=self.place("other"), answers=[self.place("list.csv"), self.place("exports")])
        desk.keys("ctrl+t", does="win.list")
        form = desk.dialog()
        desk.keys("alt+f", window=form)
        until(lambda: any(words.startswith("12 radios") for words in labels(form)), "twelve radios are understood")
        desk.keys("ctrl+Return", window=form)
        desk.gone(form)
        desk.keys("ctrl+i", does="win.import")
        form = desk.dialog()
        button = until(lambda: desk.find("push button", "Import 58 sweeps", form), lambda: f"58 sweeps of {labels(form)[:40]}")
        act(button)
        desk.gone(form)
        until(lambda: self.taken(book) == 58, lambda: f"58 sweeps in the book, not {self.taken(book)}", 60)
        desk.kill()

    def test_an_evening(self):
        os.mkdir(self.place("exports"))
        books = self.place("evening.benchbook"), self.place("imported.benchbook")
        for book in books:
            subprocess.run([os.path.join(os.environ["SP_BUILD_ROOT"], "app", "spurproof-batch"), "pack", BLANK, "-o", book], check=True)
        desk, written = self.begin(books[0]), 0
        groups = list(evening())
        self.assertEqual(sum(len(group) for group in groups), 60)
        for i, group in enumerate(groups):
            self.write(group)
            written += len(group)
            time.sleep(0.25)  # between two exports, in a hurry
            if i in (19, 37):  # in the middle of the evening
                until(lambda: self.taken(books[0]) == written, lambda: f"{written} sweeps in the book, not {self.taken(books[0])}", 60)
                desk.kill()
                desk = self.again(books[0])
        until(lambda: self.taken(books[0]) == 58, lambda: f"58 sweeps in the book, not {self.taken(books[0])}", 60)
        self.press(desk, "F11")  # and what is through is read from two metres
        until(lambda: any("Aldrick" in words for words in labels(desk.content())), "the card")
        desk.kill()
        self.assertLessEqual(self.pressed, KEYS_MOST)
        for name, _ in groups[-1]:  # which waited
            os.remove(self.place("exports", name))
        self.imported(books[1])
        watched, by_import = of(books[0]), of(books[1])
        self.assertEqual(sorted(watched), sorted(by_import))
        for name, found in watched.items():
            self.assertEqual(sweeps(found), sweeps(by_import[name]), name)
            self.assertEqual((found["verdict"], found["deciding_margin_db"]), (by_import[name]["verdict"], by_import[name]["deciding_margin_db"]), name)
        purposes = [purpose for found in watched.values() for purpose, _ in sweeps(found)]
        self.assertEqual({one: purposes.count(one) for one in set(purposes)}, {"keyed": 24, "step": 24, "superseded": 6, "unkeyed": 4})


if __name__ == "__main__":
    counted.main()
