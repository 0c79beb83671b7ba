#!/usr/bin/env python3
"""The house in order: arrows between folders, what each layer may include, sizes, the map, the top level, headers that stand alone."""
import os
import re
import shutil
import subprocess
import sys
import tempfile
import unittest
from concurrent.futures import ThreadPoolExecutor
from xml.etree import ElementTree

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
import counted  # noqa: E402

ROOT = os.environ.get("SP_SOURCE_ROOT") or os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
LONGEST = 500
SCREEN = 50
MOST_SOURCES = 22
OURS = ("core", "ui", "app")
TOP = {"README.md", "DEVELOPERS.md", "meson.build", "LICENSE", "app", "core", "ui", "tests", "samples", "po"}

DRAWS = re.compile(r"gtk|gdk|gsk|cairo|pango|xlsxwriter|json-glib", re.I)


def arrows():
    """What a folder may include beside itself, from the block of DEVELOPERS.md: "folder -> folder, folder", several on a line divided by ";"."""
    with open(os.path.join(ROOT, "DEVELOPERS.md"), encoding="utf-8") as file:
        block = file.read().split("\n## Arrows\n")[1].split("\n## ")[0]
    lines = [each.split() for line in block.split("\n") if line.startswith("    ") for each in line.split(";") if each.strip()]
    return {folder: {below.rstrip(",") for below in rest[1:]} for folder, *rest in lines}


MAY = arrows()


def reachable(folder):
    """Everything downstream of a folder's arrows."""
    found, todo = {folder}, [folder]
    while todo:
        for below in MAY[todo.pop()]:
            if below not in found:
                found.add(below)
                todo.append(below)
    return found


def folder_of(path):
    """The nearest folder that has arrows of its own; a folder below a folder without any belongs to that folder."""
    folder = os.path.dirname(path)
    while folder and folder not in MAY:
        folder = os.path.dirname(folder)
    return folder


def sources(*tops, ends=(".c", ".h")):
    for top in tops:
        for folder, _, names in os.walk(os.path.join(ROOT, top)):
            for name in sorted(names):
                if name.endswith(ends):
                    yield os.path.relpath(os.path.join(folder, name), ROOT)


def text(path):
    with open(os.path.join(ROOT, path), encoding="utf-8") as file:
        return file.read()


def includes(path):
    return re.findall(r'^\s*#\s*include\s+[<"]([^>"]+)[>"]', text(path), re.M)


def folders():
    """Every folder with files of the project's own in it, build folders and dot folders aside."""
    for top in ("app", "core", "ui", "tests", "samples", "po"):
        for folder, below, names in os.walk(os.path.join(ROOT, top)):
            below[:] = [name for name in below if not name.startswith(".") and name != "__pycache__"]
            if names:
                yield os.path.relpath(folder, ROOT)


class House(unittest.TestCase):
    def test_arrows_point_one_way(self):
        wrong = []
        for path in sources(*OURS):
            folder = folder_of(path)
            self.assertIn(folder, MAY, f"{path}: a folder that the arrows of DEVELOPERS.md do not know; give it its place there")
            for include in includes(path):
                if include.split("/")[0] in OURS and folder_of(include) not in reachable(folder):
                    wrong.append(f"{path} includes {include}")
        self.assertEqual(wrong, [], "an arrow runs back")

    def test_arrows_have_no_circle(self):
        for folder, below in MAY.items():
            for other in below:
                self.assertNotIn(folder, reachable(other), f"{folder} and {other} include each other")

    def test_every_arrow_is_needed(self):
        """An arrow goes to a folder that some file names itself, and not where another arrow leads already."""
        self.assertGreater(len(MAY), 30)
        used = {folder: set() for folder in MAY}
        for path in sources(*OURS):
            used[folder_of(path)] |= {folder_of(include) for include in includes(path) if include.split("/")[0] in OURS}
        idle = [f"{folder} -> {below}" for folder in MAY for below in MAY[folder]
                if below not in used[folder] or any(below in reachable(other) for other in MAY[folder] - {below})]
        self.assertEqual(idle, [], "an arrow that no include needs")
        self.assertEqual([folder for folder in MAY if not os.path.isdir(os.path.join(ROOT, folder))], [], "arrows of a folder that is gone")

    def test_ours_is_included_by_its_whole_path(self):
        wrong = [f"{path}: {include}" for path in sources(*OURS) for include in includes(path)
                 if "/" not in include and os.path.exists(os.path.join(ROOT, os.path.dirname(path), include))]
        self.assertEqual(wrong, [])

    def test_core_draws_nothing(self):
        wrong = [f"{path}: {include}" for path in sources("core") for include in includes(path) if DRAWS.search(include)]
        self.assertEqual(wrong, [])

    def test_only_the_window_knows_gtk(self):
        wrong = [f"{path}: {include}" for path in sources(*OURS) for include in includes(path)
                 if include.startswith("gtk/") and not path.startswith(("ui/window/", "app/"))]
        self.assertEqual(wrong, [])

    def test_entries_are_filled_in_one_place(self):
        """What is set otherwise could be undone as if it had been typed (ui/window/widgets/entry.h)."""
        sets = re.compile(r"gtk_(editable_set_text|entry_buffer_set_text|entry_set_buffer|spin_button_(new|set_value)|text_view_new|search_entry_new|password_entry_new)")
        wrong = [f"{path}: {found.group(0)}" for path in sources("ui", "app") if path != "ui/window/widgets/entry.c" for found in sets.finditer(text(path))]
        wrong += [f"{path}: {found.group(0)}" for path in sources("ui", ends=(".ui",))
                  for found in re.finditer(r"Gtk(TextView|SpinButton|SearchEntry|PasswordEntry)", text(path))]
        self.assertEqual(wrong, [])

    def test_members_stand_in_a_struct(self):
        """Nothing is hung on an object by a name: a row, a form, a window is a type of its own, or its handler keeps the data. What an entry's text was
        filled with is the exception, one struct: GTK makes the text itself."""
        hung = re.compile(r"g_object_(set|get|steal|dup|replace)_q?data")
        found = {path for path in sources("ui", "app") if hung.search(text(path))}
        self.assertEqual(found, {"ui/window/widgets/entry.c"})
        self.assertEqual(re.findall(r"g_object_[a-z]+_data\b", text("ui/window/widgets/entry.c")), [])

    def test_no_file_is_too_long(self):
        long = [f"{path}: {n} lines" for path in sources(*OURS, "tests", ends=(".c", ".h", ".py", ".build", ".ui"))
                if (n := text(path).count("\n")) > LONGEST]
        self.assertEqual(long, [], f"over {LONGEST} lines: it wants another folder")

    def test_no_folder_is_too_full(self):
        count = {}
        for path in sources(*OURS, ends=(".c",)):
            count[os.path.dirname(path)] = count.get(os.path.dirname(path), 0) + 1
        self.assertGreater(len(count), 30)
        full = [f"{folder}: {n} sources" for folder, n in count.items() if n > MOST_SOURCES]
        self.assertEqual(full, [], f"over {MOST_SOURCES} sources: it wants folders of its own")

    def test_functions_are_short(self):
        """A function's body stands between the braces of the first column (.clang-format)."""
        sizes = sorted((body.group(0).count("\n") - 1, path) for path in sources(*OURS, ends=(".c",))
                       for body in re.finditer(r"^\{\n.*?^\}$", text(path), re.M | re.S))
        self.assertGreater(len(sizes), 3000)
        self.assertLessEqual(sizes[len(sizes) // 2][0], 10, "median")
        self.assertLess(sizes[len(sizes) * 9 // 10][0], 25, "nine of ten")
        self.assertEqual([(lines, path) for lines, path in sizes if lines > SCREEN], [], "more than a screen")

    def test_c_is_as_the_formatter_writes_it(self):
        tool = shutil.which("clang-format")
        self.assertTrue(tool, "clang-format is missing: app/install-packages test")
        paths = list(sources(*OURS, "tests"))

        def complaint(some):
            run = subprocess.run([tool, "--dry-run", "-Werror", *some], capture_output=True, text=True, cwd=ROOT)
            return run.stderr if run.returncode else ""

        with ThreadPoolExecutor(2) as pool:
            told = "".join(pool.map(complaint, (paths[::2], paths[1::2])))
        self.assertEqual(sorted(set(re.findall(r"^(\S+?):\d+:\d+: error", told, re.M))), [], f"run clang-format -i on these: {told[:400]}")

    def test_what_the_formatter_leaves_has_its_reason(self):
        """`/* by hand: why */` over each `/* clang-format off */`: Debian's clang-format knows no form of its own for it."""
        def unsaid(path):
            lines = text(path).split("\n")
            return [number for number, line in enumerate(lines, 1)
                    if re.search(r"clang-format\s*off", line) and not (number > 1 and re.fullmatch(r" */\* by hand: \w.* \*/", lines[number - 2])
                                                                      and line.strip() == "/* clang-format off */")]
        wrong = {path: unsaid(path) for path in sources(*OURS, "tests", ends=(".c", ".h", ".inc")) if "clang-format" in text(path)}
        self.assertGreater(len(wrong), 10)
        self.assertEqual({path: lines for path, lines in wrong.items() if lines}, {})

    def test_every_folder_stands_on_the_map(self):
        listed = set(re.findall(r"`([\w./-]+?)/?`", text("DEVELOPERS.md")))
        # folders of mere data (samples, one bad input each) are told of by the folder above them
        missing = {folder for folder in folders() if folder not in listed and (folder in MAY or folder.count("/") < 2 and not folder.startswith("samples/"))}
        self.assertEqual(missing, set(), "not in the map of DEVELOPERS.md")
        gone = {name for name in listed if name.split("/")[0] in TOP and not os.path.exists(os.path.join(ROOT, name))}
        self.assertEqual(gone, set(), "on the map of DEVELOPERS.md, but gone")

    def test_the_top_holds_nothing_else(self):
        listed = subprocess.run(["git", "-C", ROOT, "ls-files"], capture_output=True, text=True)
        names = {line.split("/")[0] for line in listed.stdout.splitlines()} if listed.returncode == 0 else \
            {name for name in os.listdir(ROOT) if not name.startswith("build")}
        self.assertEqual({name for name in names if not name.startswith(".")} - TOP, set())
        self.assertEqual(TOP - names, set(), "gone from the top")

    def test_every_sentence_is_listed_for_translation(self):
        listed = set(text("po/POTFILES").split())
        marked = {path for path in sources(*OURS, ends=(".c",)) if re.search(r'\b(N?C?_|g_dngettext) ?\(', text(path))}
        marked |= {path for path in sources("ui", ends=(".ui",)) if 'translatable="yes"' in text(path)}
        self.assertEqual(sorted(marked - listed), [], "not in po/POTFILES: add these lines")
        self.assertEqual({path for path in listed if not os.path.exists(os.path.join(ROOT, path))}, set(), "in po/POTFILES, but gone")

    def test_a_templates_first_child_is_bound(self):
        """GTK 4.8 lets go only of what a class binds: else a page that goes before its child does is a warning."""
        wrong = []
        for path in sources("ui", ends=(".ui",)):
            template = ElementTree.fromstring(text(path)).find("template[@parent='GtkWidget']")
            child = template.find("child/object") if template is not None else None
            if child is not None and not re.search(rf"\b(?:\w+ \()?{child.get('id')}\b", text(path[:-3] + ".c")):
                wrong.append(path)
        self.assertEqual(wrong, [])

    def test_every_c_opens_with_one_line(self):
        paths = list(sources(*OURS, ends=(".c",)))
        self.assertGreater(len(paths), 300)
        self.assertEqual([path for path in paths if not re.match(rf"/\* {re.escape(os.path.basename(path))} - \S.* \*/\n", text(path))], [],
                         "a .c opens with one line: its name and what it does")

    def test_no_comment_has_idle_lines(self):
        wrong = [path for path in sources(*OURS, "tests") if re.search(r"^ \*\n \*(/|$)", text(path), re.M)]
        self.assertEqual(wrong, [])

    def test_headers_stand_alone(self):
        flags = subprocess.run(["pkg-config", "--cflags", "gtk4", "gsl", "pangocairo", "json-glib-1.0"], capture_output=True, text=True, check=True).stdout
        compiler = os.environ.get("CC", "cc").split() + ["-std=gnu11", "-Wall", "-Wextra", "-pedantic", "-Werror", "-fsyntax-only", f"-I{ROOT}"]
        compiler += [flag.replace("-I", "-isystem", 1) if flag.startswith("-I") else flag for flag in flags.split()]

        def complaint(path):
            with tempfile.NamedTemporaryFile("w", suffix=".c") as unit:
                unit.write(f'#include "{path}"\n#include "{path}"\nint main (void) {{ return 0; }}\n')
                unit.flush()
                run = subprocess.run(compiler + [unit.name], capture_output=True, text=True)
                return run.stderr if run.returncode else ""

        headers = list(sources("core", "ui", ends=(".h",)))
        self.assertGreater(len(headers), 150)
        with ThreadPoolExecutor(2) as pool:
            wrong = [found for found in pool.map(complaint, headers) if found]
        self.assertEqual(wrong, [])


if __name__ == "__main__":
    counted.main()
