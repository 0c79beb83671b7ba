#!/usr/bin/python3
"""One script of edits for the whole program: 30 in the ordinary run, 500 with SP_LONG, there also under sanitizers (`sanitized`). Nothing is
complained of, memory and descriptors stay what they were, and what was saved is what the window showed."""
import os
import random
import re
import shutil
import subprocess
import sys
import tempfile
import unittest

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
import counted  # noqa: E402
from preload import preload  # noqa: E402

ROOT, BUILD = os.environ["SP_SOURCE_ROOT"], os.environ["SP_BUILD_ROOT"]
BATCH, DRIVEN, LOOK = (os.path.join(BUILD, *parts) for parts in
                       (("app", "spurproof-batch"), ("tests", "faults", "driven"), ("tests", "faults", "look-at-books")))
SAMPLE = os.path.join(ROOT, "samples", "club.sheet")
SANITIZED = os.environ.get("SP_SANITIZED")
EDITS, FIRST = (500, 100) if os.environ.get("SP_LONG") else (30, 10)  # measured after FIRST, and at the end
# Undo keeps a bench for each edit: 20 KiB of the sample's. After so few edits GTK's caches are not full yet.
MORE_KIB = 1000 + (EDITS - FIRST) * 30 if EDITS == 500 else 20000
LIMIT_S = 3000
PAGES = ("chain", "range", "compare", "spectrum") if EDITS == 500 else ("chain", "spectrum")


def script(chance):
    """Every page first, so that what a page keeps is there before anything is measured; then edits."""
    lines = [f"page {page}" for page in PAGES]
    n, undone, radios = 0, 0, 7
    stack = []  # how each edit changed the number of rows
    while n < EDITS:
        what = chance.randrange(8)
        before = n
        if what < 2 and radios < 10:
            lines += [f"choose {chance.randrange(radios)}", "do win.duplicate"]
            stack, radios, n, undone = stack + [1], radios + 1, n + 1, 0
        elif what == 2 and radios > 6:
            lines += [f"choose {chance.randrange(radios)}", "do win.remove"]
            stack, radios, n, undone = stack + [-1], radios - 1, n + 1, 0
        elif what == 3:
            lines += ["choose 1", "do win.move-down"]
            stack, n, undone = stack + [0], n + 1, 0
        elif what == 4 and stack:
            lines.append("do win.undo")
            radios, n, undone = radios - stack[-1], n + 1, undone + 1
            stack.pop()
        elif what < 7:
            key, value = chance.choice((("temperature_c", str(n % 90 + n / 1000)), ("place", f"Shed {n}"), ("note", f"note {n}")))
            lines.append(f"set {key} {value}")
            stack, n, undone = stack + [0], n + 1, 0
        else:
            lines.append(f"page {chance.choice(PAGES)}")
        if n != before and n % 10 == 0:
            lines.append("saved")
        if n != before and n in (FIRST, EDITS):
            lines += ["page spectrum", "saved", "measure"]
    return lines + ["quit"]


class Edits(unittest.TestCase):
    def test_edits(self):
        home = tempfile.mkdtemp(prefix="edits")
        self.addCleanup(shutil.rmtree, home)
        book, path, log = (os.path.join(home, name) for name in ("evening.benchbook", "script", "log"))
        told_of_glib = preload(os.environ["SP_HANDOVER"]) if SANITIZED == "thread" else {}
        subprocess.run([BATCH, "pack", SAMPLE, "-o", book], env={**os.environ, **told_of_glib}, check=True)
        with open(path, "w", encoding="utf-8") as file:
            file.write("\n".join(script(random.Random(12))))
        env = dict(os.environ, **told_of_glib, XDG_CONFIG_HOME=os.path.join(home, "config"), XDG_DATA_HOME=os.path.join(home, "data"), LC_ALL="C.UTF-8", SP_SCRIPT=path,
                   SP_LOG=log, GTK_A11Y="none")
        run = subprocess.run([DRIVEN, book], env=env, stdin=subprocess.DEVNULL, capture_output=True, text=True, timeout=LIMIT_S, check=False)
        with open(log, encoding="utf-8") as file:
            told = file.read()
        if "SP_KEEP" in os.environ:
            with open(os.environ["SP_KEEP"], "w", encoding="utf-8") as kept:
                kept.write(run.stderr)
        self.assertEqual(run.returncode, 0, run.stderr[:20000] + told[-300:])
        self.assertEqual(run.stderr, "", told[-300:])
        self.assertIn("done\n", told)
        self.assertNotIn("\n!", told)
        measured = [tuple(map(int, found)) for found in re.findall(r"^measured (\d+) (\d+)$", told, re.M)]
        self.assertEqual(len(measured), 2)
        (kib, files), (kib_after, files_after) = measured
        print(f"anonymous memory after {FIRST} and {EDITS} edits: {kib} and {kib_after} KiB; descriptors: {files} and {files_after}", file=sys.stderr)
        self.assertEqual(files_after, files)
        if not SANITIZED:  # a sanitizer keeps what was freed
            self.assertLess(kib_after, kib + MORE_KIB)
        last = re.findall(r"^\? (\w+)$", told, re.M)[-1]
        held = subprocess.run([LOOK, book], env={**os.environ, **told_of_glib}, capture_output=True, text=True, check=True).stdout.strip()
        self.assertEqual(held, last)


if __name__ == "__main__":
    counted.main()
