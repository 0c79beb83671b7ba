#!/usr/bin/env python3
"""core/docs/files.md against the tables of keys: every key of every group stands in it, and nothing else."""
import os
import re
import subprocess
import sys
import unittest

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
import counted  # noqa: E402

ROOT = os.environ.get("SP_SOURCE_ROOT") or os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
PAGE = os.path.join(ROOT, "core/docs/files.md")
LIST = sys.argv.pop(1)


def declared():
    """group.key of every row that tests/keys/list.c prints."""
    lines = subprocess.run([LIST], capture_output=True, text=True, check=True).stdout.splitlines()
    return {line.split()[0] for line in lines}


def keys_of(cell):
    """The keys in a row's first cell, such as "points, or run (ours)"."""
    return re.findall(r"[a-z][a-z0-9_]*", re.sub(r"\([^)]*\)|\bor\b", "", cell))


def told(page):
    """group.key of every row under a head "key of `[group NAME]`"."""
    found, group = set(), None
    for line in page.splitlines():
        head = re.match(r"\| key of `\[(\w+)", line)
        group = head.group(1) if head else group if line.startswith("|") else None
        if head or not group or line.startswith("|---"):
            continue
        keys = keys_of(line.split("|")[1])
        if "`*_kind`" in line:
            keys += [key.replace("_db", "_kind") for key in keys]
        found |= {f"{group}.{key}" for key in keys}
    return found


class Docs(unittest.TestCase):
    def test_every_key_is_told(self):
        with open(PAGE, encoding="utf-8") as file:
            page = file.read()
        listed, there = declared(), told(page)
        there |= {key.replace("mask.", "rule.") for key in there} & listed  # "may stand in a rule"
        there |= {key for key in listed if key.startswith("at.") and f"`{key[3:]}`" in page}  # told in prose
        self.assertEqual(listed - there, set(), "declared, and not told in core/docs/files.md")
        self.assertEqual(there - listed, set(), "told in core/docs/files.md, but no such key")


if __name__ == "__main__":
    counted.main()
