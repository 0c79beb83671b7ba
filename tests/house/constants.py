#!/usr/bin/env python3
"""Where the core's numbers come from: beside each numeric constant stands its source, or that it has none.

A constant is a `#define NAME number` or a `static const` number, on one line or begun on it. Its words stand on its own line or in the comment directly
above it; a comment that begins with "All" or "Both" speaks for every constant from there to the next blank line. What counts as words is SOURCE:
a standard, a section of core/docs, a formula, a simulation, "common practice, no source"; or, of a number that no result hangs on, what it bounds,
whose format it is, what it is room for."""
import os
import re
import sys
import unittest

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
import counted  # noqa: E402

ROOT = os.environ.get("SP_SOURCE_ROOT") or os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
CONSTANT = re.compile(r"\s*#\s*define\s+(\w+)\s+(?:\(\s*)*(?:\((?:u?int|gsize|guint\d*|gint\d*|double)\)\s*)?(?:-?\.?\d|G_GU?INT64_CONSTANT|M_\w|[A-Z_]+ [-+*/] )"
                      r"|\s*static const double (\w+)(?:\[\w*\])* = [{]? ?-?(?:\d|[A-Z])")
SOURCE = re.compile(r"common practice, no source|by simulation \(tests/simulate/\w+\.c\)|calculated|from memory|core/docs/\w+\.md, section"
                    r"|\b(?:JCGM|ITU-R|CFR|IEEE|SCPI|EA-4|ILAC)\b"
                    r"|\bbounds? (?:memory|time|both|what)|\b(?:room|space) for\b|\bformat\b|\bin place of\b", re.I)


def comments(lines):
    """For each line the comment that ends on it, or directly above it, and those for all of its group."""
    above, group, start = "", "", None
    for line in lines:
        bare = line.strip()
        yield line, above, group
        if start is not None or bare.startswith("/*"):
            start = f"{start or ''} {bare}"
            if bare.endswith("*/"):
                above, start = start, None
                group = above if re.match(r"\s*/\* (All|Both)\b", above) else group
        else:
            above = ""
            group = group if bare else ""


def unsourced(text):
    for line, above, group in comments(text.split("\n")):
        found = CONSTANT.match(line)
        if found and not SOURCE.search(f"{line} {above} {group}"):
            yield found.group(1) or found.group(2)


def sources():
    for folder, _, names in os.walk(os.path.join(ROOT, "core")):
        for name in sorted(names):
            if name.endswith((".c", ".h")):
                path = os.path.join(folder, name)
                with open(path, encoding="utf-8") as file:
                    yield os.path.relpath(path, ROOT), file.read()


class Constants(unittest.TestCase):
    def test_every_number_says_where_it_comes_from(self):
        self.assertEqual([f"{path}: {name}" for path, text in sources() for name in unsourced(text)], [])

    def test_simulations_that_are_named_are_there(self):
        named = {found for _, text in sources() for found in re.findall(r"tests/simulate/\w+\.c", text)}
        self.assertGreaterEqual(len(named), 4)
        self.assertEqual([path for path in sorted(named) if not os.path.exists(os.path.join(ROOT, path))], [])

    def test_a_number_without_is_found(self):
        for text, names in (("#define A 3.0", ["A"]), ("#define A 3.0 /* dB over the noise */", ["A"]), ("#define A 3.0 /* common practice, no source */", []),
                            ("/* calculated: 1/3 */\n#define A 3.0\n#define B 4", ["B"]), ("/* All: common practice, no source */\n#define A 3\n#define B 4", []),
                            ("/* All: common practice, no source */\n#define A 3\n\n#define B 4", ["B"]), ("/* by simulation */\n#define A -3.", ["A"]),
                            ("  static const double a[] = { 1, 2 };", ["a"]), ('#define A "3"', [])):
            self.assertEqual(list(unsourced(text)), names, text)


if __name__ == "__main__":
    counted.main()
