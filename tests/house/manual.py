#!/usr/bin/env python3
"""README.md and the man pages say what the program does: every command and option of theirs is one of --help, and the other way round; what README
shows as seen is what comes out."""
import json
import os
import re
import shlex
import subprocess
import sys
import unittest

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
import counted  # noqa: E402

ROOT = os.environ.get("SP_SOURCE_ROOT") or os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
BATCH = os.path.join(os.environ.get("SP_BUILD_ROOT") or os.path.join(ROOT, "build"), "app", "spurproof-batch")
SHARED = {"help", "output", "json", "chain", "analyzer", "mask", "rule", "radio", "format"}  # said once for all, above the man page's commands
OPTION = re.compile(r"(?<![\w-])--([a-z][a-z-]*)")


def text(name):
    with open(os.path.join(ROOT, name), encoding="utf-8") as file:
        return file.read()


def said(*words):
    done = subprocess.run([BATCH, *words], cwd=ROOT, capture_output=True, text=True, check=False, env=dict(os.environ, LC_ALL="C.UTF-8"))
    assert done.returncode == 0, done.stderr
    return done.stdout


def plain(page):
    """A man page without its marks."""
    return re.sub(r"\\f[BRIP]", "", page).replace("\\-", "-")


def man_commands():
    """What the manual has of each command; "": of all of them."""
    page = plain(text("app/data/spurproof-batch.1")).split(".SH DESCRIPTION")[1].split(".SH FILES")[0].split(".TP\n")
    found = {"": page[0]}
    for part in page[1:]:
        line = part.split("\n", 1)[0].removeprefix(".B ")
        for name in re.findall(r"(?:^|, )([a-z]+)(?= |$)", line):
            found[name] = part
    return found


class Manual(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.commands = re.findall(r"^  ([a-z]+) ", said("--help"), re.M)
        cls.options = {name: set(re.findall(r"^  --([a-z-]+)", said(name, "--help"), re.M)) for name in cls.commands}

    def test_there_are_commands(self):
        self.assertGreater(len(self.commands), 10)
        self.assertTrue(all("help" in options for options in self.options.values()), self.options)

    def test_the_manual_has_every_command_and_option(self):
        manual = man_commands()
        self.assertEqual(set(OPTION.findall(manual.pop(""))), SHARED)
        self.assertEqual(set(manual), set(self.commands))
        for name, options in self.options.items():
            told = set(OPTION.findall(manual[name]))
            self.assertEqual(told - options, set(), f"the manual's {name} has what --help does not know")
            self.assertEqual(options - told - SHARED, set(), f"the manual's {name} lacks what --help knows")

    def test_synopses_name_options_that_are_there(self):
        for name in self.commands:
            self.assertLessEqual(set(OPTION.findall(said(name, "--help").split("\n")[0])), self.options[name], name)

    def lines(self):
        """README's command lines: the command, and what follows."""
        for line in text("README.md").split("\n"):
            found = re.search(r"spurproof-batch ([a-z]+)( .*|$)", line)
            if found and line.startswith("    "):
                yield found.groups()

    def test_readme_names_commands_and_options_that_are_there(self):
        named = set()
        for name, line in self.lines():
            self.assertIn(name, self.options)
            self.assertLessEqual(set(OPTION.findall(line)), self.options[name], f"{name}{line}")
            named.add(name)
        self.assertEqual(named, set(self.commands), "a command that README does not show")

    def test_files_that_readme_names_are_there(self):
        for name in set(re.findall(r"(?<![\w/])(?:samples|core|app|tests)/[\w./-]*\w", text("README.md"))):
            self.assertTrue(os.path.exists(os.path.join(ROOT, name)), name)

    def test_what_readme_shows_is_what_comes_out(self):
        shown = 0
        for call, block in re.findall(r"^ +\$ spurproof-batch ([^\n]*)\n((?: +[^\n$]+\n)+)", text("README.md"), re.M):
            out, place = said(*shlex.split(call)), 0
            for line in block.strip("\n").split("\n"):
                line = line.strip().removesuffix("…").rstrip()
                self.assertIn(line, out[place:], f"spurproof-batch {call}")
                place = out.index(line, place) + len(line)
                shown += 1
        self.assertGreaterEqual(shown, 8)

    def test_the_examples_figures(self):
        """The Brundlow: its power, and how far down its limit and its floor lie."""
        found = next(one for one in json.loads(said("judge", "samples/club.sheet", "--json"))["radios"] if one["name"] == "Brundlow")
        power = found["fundamental"]["level_dbm"]
        self.assertEqual(found["verdict"], "not proven")
        self.assertFalse(any(e["detected"] for e in found["emissions"]))
        self.assertIn(f"{found['fundamental']['power_w']:.1f} W on 2 m", text("README.md"))
        self.assertIn(f"limit lies {power - found['emissions'][0]['limit_dbm']:.0f} dB down", text("README.md"))
        self.assertIn(f"less than {power - min(e['floor_dbm'] for e in found['emissions']):.0f} dB down", re.sub(r"\s+", " ", text("README.md")))

    def test_the_windows_manual(self):
        page = plain(text("app/data/spurproof.1"))
        self.assertEqual(set(OPTION.findall(page)), {"help", "version"})
        program = os.path.join(os.path.dirname(BATCH), "spurproof")
        if os.path.exists(program):  # it answers both where there is no display, every time
            bare = {k: v for k, v in os.environ.items() if k not in ("DISPLAY", "WAYLAND_DISPLAY")} | {"LC_ALL": "C.UTF-8"}
            for option in ["--version"] + ["--help"] * 10:
                done = subprocess.run([program, option], capture_output=True, text=True, check=False, env=bare)
                self.assertEqual((done.returncode, done.stderr), (0, ""))
                self.assertIn("--version" if option == "--help" else "spurproof ", done.stdout)
        for pair in (("spurproof.1", "spurproof-batch (1)"), ("spurproof-batch.1", "spurproof (1)")):
            self.assertIn(pair[1], plain(text("app/data/" + pair[0])))


if __name__ == "__main__":
    counted.main()
