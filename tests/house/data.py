#!/usr/bin/env python3
"""What a desktop is told of the program, valid by its standards' own tools and of one meaning; and under which licence each file is."""
import configparser
import fnmatch
import os
import re
import subprocess
import sys
import unittest
import xml.etree.ElementTree as ElementTree

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
import counted  # noqa: E402

ROOT = os.environ.get("SP_SOURCE_ROOT") or os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
DATA = os.path.join(ROOT, "app", "data")
ID = "org.spurproof.Spurproof"
MIME = "{http://www.freedesktop.org/standards/shared-mime-info}"


def text(*parts):
    with open(os.path.join(ROOT, *parts), encoding="utf-8") as file:
        return file.read()


class Data(unittest.TestCase):
    def valid(self, tool, *words):
        try:
            run = subprocess.run([tool, *words], capture_output=True, text=True, cwd=DATA, check=False)
        except FileNotFoundError:
            self.fail(f"{tool} is missing: app/install-packages test")
        self.assertEqual(run.returncode, 0, run.stdout + run.stderr)

    def test_the_tools_refuse(self):
        """Each tool refuses a file of the wrong kind, so its silence about ours means something."""
        for tool, *words in (("desktop-file-validate", f"{ID}.metainfo.xml"), ("appstreamcli", "validate", "--no-net", f"{ID}.svg"),
                             ("xmllint", "--noout", f"{ID}.desktop")):
            with self.assertRaises(AssertionError) as refused:
                self.valid(tool, *words)
            self.assertNotIn("is missing", str(refused.exception))

    def test_desktop_file(self):
        self.valid("desktop-file-validate", f"{ID}.desktop")

    def test_metainfo(self):
        self.valid("appstreamcli", "validate", "--no-net", "--explain", f"{ID}.metainfo.xml")

    def test_xml(self):
        self.valid("xmllint", "--noout", *(name for name in sorted(os.listdir(DATA)) if name.endswith((".svg", ".xml"))))

    def test_the_icon_is_square(self):
        icon = ElementTree.fromstring(text("app", "data", f"{ID}.svg").encode())
        self.assertEqual(icon.tag, "{http://www.w3.org/2000/svg}svg")
        self.assertEqual(icon.get("width"), icon.get("height"))
        self.assertEqual(icon.get("viewBox"), f"0 0 {icon.get('width')} {icon.get('height')}")

    def test_all_name_one_program(self):
        entry = configparser.ConfigParser(interpolation=None, delimiters=("=",))
        entry.read_string(text("app", "data", f"{ID}.desktop"))
        desktop = entry["Desktop Entry"]
        metainfo = ElementTree.fromstring(text("app", "data", f"{ID}.metainfo.xml").encode())
        kind = ElementTree.fromstring(text("app", "data", "spurproof.xml").encode()).find(f"{MIME}mime-type")
        self.assertEqual(desktop["Icon"], ID)
        self.assertEqual([metainfo.findtext("id"), metainfo.findtext("launchable")], [ID, f"{ID}.desktop"])
        self.assertEqual(desktop["MimeType"].rstrip(";"), kind.get("type"))
        self.assertEqual(metainfo.findtext("provides/mediatype"), kind.get("type"))
        self.assertEqual(kind.find(f"{MIME}glob").get("pattern"), "*.benchbook")
        self.assertIn(desktop["Exec"].split()[0], [binary.text for binary in metainfo.findall("provides/binary")])
        version = re.search(r"version: '([\d.]+)'", text("meson.build")).group(1)
        self.assertEqual(metainfo.find("releases/release").get("version"), version)
        self.assertIn(f'"{ID}"', text("app", "main.c") + text("ui", "window", "shell", "application.c"))


class Licences(unittest.TestCase):
    def test_every_file_has_one(self):
        """.reuse/dep5: the last paragraph that names a file holds for it, as REUSE has it."""
        paragraphs = [dict(re.findall(r"^(\S+): *((?:.|\n )*)", part, re.M)) for part in text(".reuse", "dep5").strip().split("\n\n")]
        self.assertIn("Format", paragraphs[0])
        listed = subprocess.run(["git", "-C", ROOT, "ls-files"], capture_output=True, text=True, check=False).stdout.split("\n")[:-1]
        for given in paragraphs[1:]:
            self.assertEqual(set(given), {"Files", "Copyright", "License"})
            self.assertIn(given["License"].strip(), ("GPL-3.0-or-later", "CC0-1.0"))
            for pattern in given["Files"].split():
                self.assertTrue(not listed or fnmatch.filter(listed, pattern), f"{pattern} names no file")
        self.assertEqual(paragraphs[1]["Files"].strip(), "*", "what no other paragraph names")
        self.assertIn("GNU GENERAL PUBLIC LICENSE", text("LICENSE"))


if __name__ == "__main__":
    counted.main()
