#!/usr/bin/env python3
"""Reasons (core/quantity/reasons.inc): each is emitted somewhere in core, and each that is written gives every field of its row by name."""
import os
import re
import sys
import unittest

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
import counted  # noqa: E402

ROOT = os.environ.get("SP_SOURCE_ROOT") or os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))


def text(path):
    with open(os.path.join(ROOT, path), encoding="utf-8") as file:
        return re.sub(r"/\*.*?\*/", "", file.read(), flags=re.S)


def sources(*tops):
    for top in tops:
        for folder, _, names in os.walk(os.path.join(ROOT, top)):
            yield from (os.path.relpath(os.path.join(folder, name), ROOT) for name in names if name.endswith((".c", ".h")))


def rows():
    """code -> its fields."""
    table = text("core/quantity/reasons.inc").replace("\\\n", " ")
    for name, fields in re.findall(r"#define (\w+) (.*)", table):
        table = re.sub(rf"(?<!define )(?<!undef )\b{name}\b", lambda _, fields=fields: fields, table)
    found = {code: re.findall(r"[FN] \(\w+, (\w+)\)", fields)
             for code, fields in re.findall(r"(?:ROW|WEIGHS|LIGHT) \((\w+), \"[\w-]+\",((?:\s*[FN] \(\w+, \w+\))*)\s*\)", table)}
    assert len(found) == len(re.findall(r"\b(?:ROW|WEIGHS|LIGHT) \(", table)), "a row that this script does not read"
    return found


def calls(source):
    """(code, arguments) of each reason that is written."""
    for match in re.finditer(r"\bsp_reason (?=\()", source):
        depth, end = 0, match.end()
        while True:
            depth += {"(": 1, ")": -1}.get(source[end], 0)
            end += 1
            if not depth:
                break
        yield re.match(r"\((\w+),(.*)\)$", source[match.end():end], re.S).groups()


class Reasons(unittest.TestCase):
    def test_each_is_emitted_in_core(self):
        core = "\n".join(text(path) for path in sources("core") if path != "core/quantity/reason.h")
        emitted = {code for code, _ in calls(core)} | set(re.findall(r"\bsp_reason_bare \((\w+)\)", core))
        emitted |= set(re.findall(r"\bwhy = [^;]*?SP_REASON_(\w+)", core)) | set(re.findall(r"\bSpGap \w+ = \{[^}]*?SP_REASON_(\w+)", core))
        for change in re.findall(r"\b(?:return|=) sp_plan_change \([^;]*;", core):
            emitted |= set(re.findall(r"SP_REASON_(\w+)", change))
        self.assertEqual(set(rows()) - emitted, set(), "rows that nobody emits")

    def test_each_gives_every_field(self):
        table, n = rows(), 0
        for path in sources("core", "ui", "app", "tests"):
            if path == "core/quantity/reason.h":
                continue
            for code, arguments in calls(text(path)):
                given = re.findall(r"[,\s]\.(\w+) = ", "," + arguments)
                self.assertEqual(sorted(given), sorted(table[code]), f"{path}: {code}: what is not given would read 0, not unknown")
                n += 1
        self.assertGreater(n, 100)


if __name__ == "__main__":
    counted.main()
