#!/usr/bin/env python3
"""The command line without memory: the n-th allocation of SQLite, cairo, the spreadsheet's writer, GSL or our own fails. It ends with a message or
with what it would have written, byte for byte; old files stay as they were, and nothing else is left. GLib ends a program without memory, and so do we
where a number's array or solver is wanted (core/quantity/large.h); the spreadsheet's library, minizip and cairo break off, each in code of its own. GLib's own
never fail here, but where all address space is short.

Six places in each command's allocations in the ordinary run; with SP_LONG one from each call stack that asks for memory."""
import os
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import time
import unittest
from concurrent.futures import ThreadPoolExecutor

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
import counted  # noqa: E402
from preload import preload  # noqa: E402

ROOT, BUILD = os.environ["SP_SOURCE_ROOT"], os.environ["SP_BUILD_ROOT"]
BATCH, STARVE = (os.path.join(BUILD, *parts) for parts in (("app", "spurproof-batch"), ("tests", "faults", "libstarve.so")))
RADIOS = ("Morvenlick", "Fennimarch")  # of the sample: few, for each command starts thousands of times; with a key up, steps, a notch and a chain of its own
OBJECTS = "program,libsqlite3,libcairo,libpixman,libxlsxwriter,libminizip,libz.so,libpng,libgsl"
LONG = "SP_LONG" in os.environ
TRIES = 6
# "heap after": cairo spoils the heap where pixman gets none, and the C library's next malloc, of whomever, finds it.
# "nowhere": cairo jumps (longjmp) to a stack and a signal mask that it did not set up.
# libminizip: zipOpenNewFileInZip4_64 (1.1) fills in the central header before it looks whether it got one
BREAK_OFF = ("libcairo.so", "libpixman", "libxlsxwriter", "libminizip", "nowhere", "heap after libcairo.so", "heap after libpixman")
PASSES = 3  # threads may change the order of allocations: a call stack that another's failing came before is tried again
NONE = "-1"
# Address space in MB. Where there is little, GLib and fontconfig end the program in Pango's threads; from ENOUGH on there is no such end, though each thread
# whose heap is its own takes 64 (app/batch.c)
SPACES, ENOUGH = (range(330, 50, -4) if LONG else (205, 200, 175, 46)), 130
# {d}: the folder, where a file of that name stands before; {s}: the sheet.
COMMANDS = {
    "judge": ["judge", "{s}", "--json"],
    "judge a book": ["judge", "{d}/sound.benchbook", "--json"],
    "picture": ["draw", "{s}", "-o", "{d}/old.png"],
    "drawing": ["draw", "{s}", "-o", "{d}/old.pdf"],
    "report": ["report", "{s}", "--traces", "-o", "{d}/old.xlsx"],
    "pack": ["pack", "{s}", "-o", "{d}/old.benchbook"],
    "unpack": ["unpack", "{d}/sound.benchbook", "-d", "{d}/out"],
}


def read(path):
    with open(path, "rb") as file:
        return file.read()


def tree(folder):
    """Every file's bytes."""
    return {os.path.relpath(os.path.join(at, name), folder): read(os.path.join(at, name)) for at, _, names in os.walk(folder) for name in names}


class Allocations(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.scratch = tempfile.mkdtemp(prefix="allocations", dir="/dev/shm" if os.access("/dev/shm", os.W_OK) else None)
        cls.addClassCleanup(shutil.rmtree, cls.scratch, True)
        cls.model = os.path.join(cls.scratch, "model")
        os.makedirs(os.path.join(cls.model, "tmp"))
        shutil.copytree(os.path.join(ROOT, "samples"), os.path.join(cls.scratch, "samples"))
        cls.sheet = os.path.join(cls.scratch, "samples", "few.sheet")
        with open(os.path.join(ROOT, "samples", "pocket.sheet"), encoding="utf-8") as file, open(cls.sheet, "w", encoding="utf-8") as few:
            head, *radios = file.read().split("\n[radio ")
            few.write("\n[radio ".join([head, *(one for one in radios if one.split("]")[0] in RADIOS)]))
        for name in ("sound.benchbook", "old.benchbook"):
            subprocess.run([BATCH, "pack", cls.sheet, "-o", os.path.join(cls.model, name)], check=True)
        for name in ("old.png", "old.pdf", "old.xlsx"):
            with open(os.path.join(cls.model, name), "w", encoding="utf-8") as file:
                file.write(f"the old {name}")

    def run_one(self, command, starve, objects=OBJECTS, space=None):
        """(exit, words on both channels, allocations or the object that it broke off in, files after it, {call stack: the allocation that failed, or would first})"""
        home = tempfile.mkdtemp(dir=self.scratch)
        folder, log, stacks = (os.path.join(home, name) for name in ("d", "log", "stacks"))
        shutil.copytree(self.model, folder)
        env = dict(os.environ, **preload(STARVE), SP_STARVE=f"{starve} {objects}", SP_STARVE_LOG=log, TMPDIR=os.path.join(folder, "tmp"), LC_ALL="C.UTF-8",
                   SOURCE_DATE_EPOCH="1700000000")
        if LONG:
            env["SP_STARVE_STACKS"] = stacks
        run = subprocess.run([BATCH, *(part.format(d=folder, s=self.sheet) for part in COMMANDS[command])], env=env, capture_output=True, timeout=300, check=False,
                             preexec_fn=(lambda: resource.setrlimit(resource.RLIMIT_AS, (space, space))) if space else None)
        logged = read(log).decode().strip() if os.path.exists(log) else "nowhere"
        asking = [line.split() for line in read(stacks).decode().splitlines()] if os.path.exists(stacks) else []
        files = tree(folder)
        shutil.rmtree(home)
        return run.returncode, run.stdout, run.stderr.decode("utf-8", "replace"), int(logged) if logged.isdigit() else logged, files, {stack: int(n) for n, stack in asking}

    def check_one(self, command, starve, whole, space=None):
        """Whether it was told; the call stacks that got no memory are those of `self.failed`."""
        what = f"{command}, allocation {starve}, address space {space}"
        code, out, said, where, files, failed = self.run_one(command, starve, space=space)
        self.failed.update(failed)
        if code == -signal.SIGTRAP:
            self.assertIn("GLib-ERROR" if space else "no memory for ", said, what)
            self.assertEqual((out, files), (b"", self.before), what)
            return 1
        if code in (-signal.SIGSEGV, -signal.SIGABRT) and command in ("picture", "drawing", "report") and str(where).startswith((*BREAK_OFF, "libfontconfig") if space else BREAK_OFF):
            self.broken.append(starve)
            self.assertEqual({name: data for name, data in files.items() if not name.startswith("tmp/")}, self.before, what)
            return 1
        self.assertIn(code, (0, 1, 2, 3), f"{what}: ended with {code} in {where}: {said}")
        if code == whole[0]:  # it did without
            self.assertEqual(sorted(files), sorted(whole[4]), what)
            self.assertEqual(out, whole[1], what)
            for name, data in files.items():
                if name.endswith(".benchbook"):
                    self.assertLess(abs(len(data) - len(whole[4][name])), 2000, f"{what}: something is missing in {name}")
                else:
                    self.assertTrue(data == whole[4][name], f"{what}: {name} is not whole")  # not assertEqual, which would tell them byte by byte
            return 0
        self.assertIn("spurproof-batch: ", said, f"{what}: {code}")
        self.assertNotIn(" folder ", said, what)
        self.assertEqual(out, b"", what)
        self.assertEqual(files, self.before, f"{what}: {said}: {sorted(files)}")
        return 1

    def check_all(self, command, places, whole):
        """How many were told. Every third time all behind it fail too."""
        wrong = []

        def one(starve):
            try:
                return self.check_one(command, starve, whole)
            except AssertionError as why:
                wrong.append(str(why)[:600])
                print(f"wrong: {wrong[-1]}", file=sys.stderr)  # at once: the whole takes long
                return 0
        with ThreadPoolExecutor(2) as pool:
            told = sum(pool.map(one, (f"{n}{'+' if i % 3 == 2 else ''}" for i, n in enumerate(places))))
        self.assertEqual(wrong, [])
        return told

    def test_sqlite_gets_none_to_begin_with(self):
        for starve in ("1", "2", "1+"):
            code, out, said, _, files, _ = self.run_one("pack", starve, "libsqlite3")
            self.assertEqual((code, out, files), (1, b"", tree(self.model)), f"{starve}: {said}")
            self.assertIn("out of memory", said)

    def test_a_report_blames_no_folder_for_want_of_memory(self):
        asked = self.run_one("report", NONE, "program")[3]
        written, packed = "old.xlsx: cannot be written: Cannot allocate memory; nothing was changed", "there is not enough memory for the spreadsheet"
        for starve, words in ((str(asked), written),  # the last: where the links of its name lead
                              (str(asked - 1), packed), (f"{asked - 1}+", packed), (str(asked - 2), packed)):  # streams of the spreadsheet's own
            code, out, said, _, files, _ = self.run_one("report", starve, "program")
            self.assertEqual((code, out, files), (1, b"", tree(self.model)), f"{starve}: {said}")
            self.assertIn(words, said)

    def test_what_a_library_leaves_out_is_told(self):
        asked = self.run_one("report", NONE, "libxlsxwriter")[3]
        for command, library, places, words in (
                ("picture", "libcairo", (4, 5, 11), "out of memory"),  # the first shapes, and the fonts' options
                ("report", "libxlsxwriter", range(asked - 9, asked - 6), "there is not enough memory for the spreadsheet")):  # names of sheets, docProps/app.xml
            for starve in places:
                code, out, said, _, files, _ = self.run_one(command, starve, library)
                self.assertEqual((code, out, files), (1, b"", tree(self.model)), f"{command}, {starve}: {said}")
                self.assertIn(words, said)

    def test_without_a_second_thread(self):
        def judge(**more):
            return subprocess.run([BATCH, "judge", self.sheet, "--json"], env=dict(os.environ, **preload(STARVE), **more), capture_output=True, timeout=300, check=False)
        alone, whole = judge(SP_STARVE_THREADS="1"), judge()
        self.assertEqual((alone.returncode, alone.stdout, alone.stderr), (0, whole.stdout, whole.stderr))

    def test_little_address_space(self):
        self.before = tree(self.model)
        for command in ("picture", "report") if LONG else ("picture",):
            self.failed, self.broken = {}, []
            whole = self.run_one(command, NONE)
            told = {space: self.check_one(command, NONE, whole, space * 1000 * 1000) for space in SPACES}
            print(f"{command}: {len(told)} address spaces, {sum(told.values())} too small, {len(self.broken)} broke off", file=sys.stderr)
            self.assertEqual([space for space, short in told.items() if short and space >= ENOUGH], [], command)
            self.assertTrue(told[min(told)], command)

    def test_allocations(self):
        self.before = tree(self.model)
        for command in COMMANDS:
            with self.subTest(command):
                self.failed, self.broken, begin = {}, [], time.monotonic()
                whole = self.run_one(command, NONE)
                self.assertEqual(whole[0], 0, whole[2])
                asked, stacks = whole[3], whole[5]
                self.assertGreater(asked, TRIES)
                if LONG:
                    tries = told = 0
                    for _ in range(PASSES):
                        places = sorted(n for stack, n in self.run_one(command, NONE)[5].items() if stack not in self.failed)
                        tries, told = tries + len(places), told + self.check_all(command, places, whole)
                    kinds = f" from {len(stacks.keys() & self.failed.keys())} of {len(stacks)} call stacks"
                    self.assertGreater(len(stacks.keys() & self.failed.keys()), 0.99 * len(stacks), command)
                else:
                    tries, kinds = TRIES, ""
                    told = self.check_all(command, [1 + i * asked // TRIES for i in range(TRIES)], whole)
                print(f"{command}: {tries} of {asked} allocations{kinds} failed, {told} told, {tries - told} done without, "
                      f"{len(self.broken)} broke off, {time.monotonic() - begin:.0f} s", file=sys.stderr)


if __name__ == "__main__":
    counted.main()
