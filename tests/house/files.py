#!/usr/bin/env python3
"""Which files open files: core/quantity reads strangers' and writes results, and each other place is one that its header tells of."""
import os
import re
import sys
import unittest

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
import counted  # noqa: E402

ROOT = os.environ.get("SP_SOURCE_ROOT") or os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
OPENS = re.compile(r"(?<![\w>.])(fopen|freopen|open|openat|creat|mkstemps?|mkostemps?|tmpfile|memfd_create|fdopen|g_f?open|g_fopen|g_creat|g_mkstemp\w*|g_mkdtemp\w*"
                   r"|g_file_(get|set)_contents\w*|g_file_open_tmp|g_file_(read|create|replace|append_to|open|load|copy|move)\w*|g_mapped_file_new\w*"
                   r"|g_key_file_(load_from_(file|dirs|data_dirs)|save_to_file)|sqlite3_open\w*|workbook_new\w*|cairo_(pdf|svg|ps)_surface_create|cairo_surface_write_to_png"
                   r"|cairo_image_surface_create_from_png|gdk_texture_new_from_file\w*|gdk_texture_save_to_\w+) \(")
MAY = {
    "core/quantity/file.c": "strangers' files, read",
    "core/quantity/file-write.c": "results, written",
    "core/book/book-file.c": "the book, by SQLite",
    "core/book/book-journal.c": "a book's journal, and a copy in a folder of its own",
    "core/book/book-lock.c": "the book's own file, locked",
    "core/book/pack.c": "files of a book that is unpacked: none may be there",
    "ui/report/workbook/workbook.c": "the spreadsheet, in memory",
    "ui/report/workbook/workbook-temporary.c": "the library's temporary files",
    "ui/window/session/preferences.c": "the user's preferences",
    "ui/window/session/drafts.c": "the user's drafts",
    "app/output.c": "pipes and what -o names",
}


def code(path):
    with open(os.path.join(ROOT, path), encoding="utf-8") as file:
        return re.sub(r'/\*.*?\*/|"(?:[^"\\\n]|\\.)*"', " ", file.read(), flags=re.S)


def opening(path):
    """Calls only: a function's own name stands at the line's beginning (.clang-format)."""
    return sorted({found.group(1) for line in code(path).split("\n") if line.startswith((" ", "\t")) for found in OPENS.finditer(line)})


class Files(unittest.TestCase):
    def test_only_these_open_files(self):
        found = {}
        for top in ("core", "ui", "app"):
            for folder, _, names in os.walk(os.path.join(ROOT, top)):
                for name in names:
                    path = os.path.relpath(os.path.join(folder, name), ROOT)
                    if name.endswith(".c") and opening(path):
                        found[path] = opening(path)
        self.assertEqual({path: calls for path, calls in found.items() if path not in MAY}, {},
                         "opens files: core/quantity/file.h does that, or say there and here why not")
        self.assertEqual(sorted(set(MAY) - set(found)), [], "on the list, but opens nothing")

    def test_a_call_is_seen(self):
        for line in ("  int fd = open (path, O_RDONLY);", "  if (g_file_get_contents (path, &text, NULL, NULL))", "  sqlite3_open_v2 (path, &db, 0, NULL);"):
            self.assertRegex(line, OPENS)
        for line in ("  sp_file_open (path, FALSE, 1, &n, error);", "  self->open (path);", "  sp_reopen (path);"):
            self.assertNotRegex(line, OPENS)


if __name__ == "__main__":
    counted.main()
