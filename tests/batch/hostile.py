#!/usr/bin/env python3
"""Names and texts of strangers on their way out: JSON, tables and messages, pictures, spreadsheets. And words of the command line that hold ? or %."""
import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
import unittest
import xml.etree.ElementTree
import zipfile

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path[:0] = [HERE, os.path.join(HERE, "..")]
import bench_files  # noqa: E402
import counted  # noqa: E402
from batch import BATCH  # noqa: E402

SAMPLES = os.path.join(os.environ.get("SP_SOURCE_ROOT", os.path.join(HERE, "..", "..")), "samples")
PARTS = ("--chain", "bench.chain", "--analyzer", "bench.analyzer", "--mask", "house.mask")
# what must come through as it is, what must not reach a terminal, and a byte that is no UTF-8
ODD = ["plain", "line-\nSafe as drawn.\n", "byte-\udcff\udc80-\"-\\-\t-\r-\a-\x1b[2J\x1b]0;t\a-\u009b31m-\x7f-=1+1-&amp;-<b>-ü-€",
       "turned-\u202etxt.\u2066x\u2069-\ufffe-\uffff-\ufdd0-\U0001fffe-\u2028-\u2029"]
STEERS = re.compile("[\x00-\x09\x0b-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069\ufdd0-\ufdef\ufffe\uffff]")
TEXTS = ["=1+1", "+1", "-1+1", "@SUM(A1)", "\t=1", "\r=1", "=HYPERLINK(\"http://example.org\")", "{=1}", "http://example.org", "mailto:a@example.org",
         "internal:Summary!A1", "external:other.xlsx", "javascript:alert(1)", "file:///etc/passwd", "\ufffe", "a\uffffb", "\ufdd0", "\U0001ffff", "\u202eabc",
         "<script>alert(1)</script>", "]]>", "&lt;", "a\u2028b", "\u009b31m"]


def name_of(text):
    return text.replace("/", "|")


def quoted(name):
    """As a sheet names a file: every byte that might be special as %XX."""
    return "".join(chr(b) if chr(b).isalnum() and b < 128 else f"%{b:02X}" for b in os.fsencode(name))


def shown(name):
    """The documented escape: bytes that are no UTF-8 as %XX."""
    return "".join(f"%{ord(c) - 0xdc00:02X}" if 0xdc80 <= ord(c) <= 0xdcff else c for c in name)


class Hostile(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = bench_files.write(tempfile.mkdtemp(prefix="spurproof-hostile-"))
        with open(os.path.join(cls.folder, "plendour.csv"), "w", encoding="utf-8") as file:
            file.write(bench_files.trace([(146e6, -3.0), (292e6, -63.0)], 10, 1, wider=8))  # few points: many runs
        for text in ODD:
            for ending, source in ((".csv", "plendour.csv"), (".chain", "bench.chain")):
                shutil.copy(os.path.join(cls.folder, source), os.path.join(cls.folder, name_of(text) + ending))
        shutil.copy(os.path.join(SAMPLES, "thimble.run"), cls.folder)

    @classmethod
    def tearDownClass(cls):
        shutil.rmtree(cls.folder)

    def run_batch(self, *words):
        run = subprocess.run([BATCH, *words], capture_output=True, cwd=self.folder, env=dict(os.environ, LC_ALL="C.UTF-8"), timeout=120)
        self.assertIn(run.returncode, (0, 1), f"{words}: {run.stderr}")
        return run.returncode, run.stdout, run.stderr

    def good(self, *words):
        code, out, err = self.run_batch(*words)
        self.assertEqual((code, err), (0, b""), words)
        return out

    def clean(self, output, words):
        text = output.decode("utf-8")
        self.assertIsNone(STEERS.search(text), f"{words}: {STEERS.search(text)}")
        return text

    def put(self, name, text):
        with open(os.path.join(self.folder, name), "w", encoding="utf-8", newline="\n") as file:
            file.write(text)
        return name

    def copy(self, name):
        shutil.copy(os.path.join(self.folder, "plendour.csv"), os.path.join(self.folder, name))
        return name

    def sheet(self, radio, trace, chain="bench.chain", title="Two pads"):
        return self.put("odd.sheet", bench_files.SHEET.split("[radio")[0].replace("chain=bench.chain", "chain=" + chain).replace("Two pads", title)
                        + f"[radio {radio}]\nfundamental=146MHz\nrated_w=5\nkeyed={trace}\n")

    def commands(self, text):
        trace = name_of(text) + ".csv"
        sheet = self.sheet("".join(f"%{b:02X}" for b in os.fsencode(shown(text).replace("/", "|").replace(";", ""))), quoted(trace), quoted(name_of(text) + ".chain"))
        yield "read", trace
        yield "width", trace, "--from", "140MHz", "--to", "150MHz"
        yield "judge", sheet
        yield ("judge", "--radio", "X=" + trace, *PARTS)
        yield "compare", sheet
        yield "compare", "bench.sheet", "--with", sheet
        yield "budget", sheet, "--order", "2"
        yield "headroom", sheet, "--power", "500W"
        yield "range", sheet, "--power", "5W", "--fundamental", "146MHz"
        yield "chain", name_of(text) + ".chain"
        yield "calibrate", "thimble.run", "--on", "2026-11-28"

    def test_json_and_tables(self):
        lines = {}
        for text in ODD:
            with self.subTest(text=text):
                for i, words in enumerate(self.commands(text)):
                    output = self.clean(self.good(*words, "--json"), words)
                    data = json.loads(output)
                    table = self.clean(self.good(*words), words)
                    if words[0] == "read":
                        self.assertEqual(data["traces"][0]["file"], shown(words[1]))
                    # no name begins a line of its own
                    self.assertEqual(table.count("\n"), lines.setdefault(i, table.count("\n")), f"{words}:\n{table}")

    def test_an_escape_of_the_json_can_be_given_back(self):
        given = json.loads(self.good("read", self.copy("byte-\udcff\udc80.csv"), "--json"))["traces"][0]["file"]
        self.assertEqual(given, "byte-%FF%80.csv")
        self.assertEqual(json.loads(self.good("read", given, "--json"))["traces"][0]["file"], given)

    def test_messages(self):
        for text in ODD:
            name = name_of(text)
            for words in (("read", name + ".gone"), ("read", name + ".csv?rbw=" + name), ("judge", name + ".gone"), ("judge", name + ".chain"),
                          ("judge", self.sheet("X", quoted(name) + ".gone")), ("judge", self.sheet("X", "plendour.csv", quoted(name) + ".gone")),
                          ("draw", "bench.sheet", "-o", name), ("judge", "bench.sheet", "-o", name + "/" + name), ("pack", "bench.sheet", "-o", name + "/x"),
                          ("judge", "bench.sheet", "--rule", name), ("judge", "bench.sheet", "--mask", name), (name,), ("judge", "--" + name),
                          ("mask", name), ("calibrate", name + ".csv"), ("unpack", name + ".csv", "-d", "there"),
                          ("compare", "bench.sheet", "--with", name), ("budget", "bench.sheet", "--radio", name, "--order", "2")):
                code, out, err = self.run_batch(*words)
                self.assertEqual((code, out), (1, b""), words)
                message = self.clean(err, words)
                self.assertEqual(message.count("\n"), 1, f"{words}: {message}")

    def check_svg(self, data):
        for element in xml.etree.ElementTree.fromstring(data).iter():
            self.assertNotRegex(element.tag.lower(), "script|foreignobject|}a$|animate|}set$")
            for key, value in element.attrib.items():
                self.assertFalse(key.lower().startswith("on"), key)
                if key.lower().endswith("href"):
                    self.assertRegex(value, "^(#|data:image/png;)")

    def draw(self, ending, *words):
        self.good("draw", "odd.sheet", "-o", "picture" + ending, *words)
        with open(os.path.join(self.folder, "picture" + ending), "rb") as file:
            return file.read()

    def test_pictures(self):
        self.all_texts()
        self.check_svg(self.draw(".svg"))
        for text in (text for text in TEXTS if "=" not in text):  # that would be a radio to be made
            with self.subTest(text=text):
                self.check_svg(self.draw(".svg", "--radio", name_of(text)))
        data = self.draw(".pdf")
        self.assertTrue(data.startswith(b"%PDF"))
        self.assertIsNone(re.search(rb"/(JavaScript|JS|OpenAction|AA|URI|Launch|EmbeddedFile)\b", data))
        self.assertTrue(self.draw(".png").startswith(b"\x89PNG"))

    def all_texts(self):
        """A sheet whose radios and exports have all of TEXTS as their names."""
        radios = []
        for i, text in enumerate(TEXTS):
            name = self.put(name_of(text) + ".csv", bench_files.trace([(146e6, -3.0)], 10, i, wider=8))  # were they alike, they would be one export
            radios.append("[radio " + quoted(name_of(text)) + f"]\nfundamental=146MHz\nkeyed={quoted(name)}\n")
        title = '=HYPERLINK("x") \ufffe\noperator=@SUM(A1) \uffff\nplace=-1+1'
        self.put("odd.sheet", bench_files.SHEET.split("[radio")[0].replace("Two pads", title) + "\n".join(radios))

    def test_spreadsheet(self):
        self.all_texts()
        self.good("report", "odd.sheet", "-o", "odd.xlsx")
        with zipfile.ZipFile(os.path.join(self.folder, "odd.xlsx")) as book:
            for part in book.namelist():
                self.assertNotRegex(part, "(?i)externalLink|vba|macro|activeX|embeddings")
                data = book.read(part)
                if not part.endswith((".xml", ".rels")):
                    continue
                tree = xml.etree.ElementTree.fromstring(data)
                for element in tree.iter():
                    self.assertNotEqual(element.attrib.get("TargetMode"), "External", part)
                    if element.tag.endswith("}f"):
                        formula = re.sub("'([^']|'')*'!", "S!", element.text or "")  # without the names of sheets, which are quoted
                        self.assertNotRegex(formula, "(?i)HYPERLINK|WEBSERVICE|DDE|http|[|']")
                        self.assertNotIn(element.text, [text.lstrip("=") for text in TEXTS])

    def test_points_are_numbers_and_nothing_else(self):
        out = self.good("read", self.copy("=1+1.csv"), "--csv").decode()
        head, *rows = out.split("\n")
        self.assertEqual(head, "frequency_hz,level_dbm")
        for row in rows:
            self.assertRegex(row, r"^$|^[0-9.e+]+,-?[0-9.e+-]+$")

    def test_a_word_as_it_stands(self):
        shutil.copy(os.path.join(self.folder, "plendour.csv"), os.path.join(self.folder, "percent%41.csv"))
        shutil.copy(os.path.join(self.folder, "plendour.csv"), os.path.join(self.folder, "what?rbw=1.csv"))
        shutil.copy(os.path.join(self.folder, "plendour.csv"), os.path.join(self.folder, "two;three.csv"))
        for name in ("percent%41.csv", "what?rbw=1.csv", "two;three.csv"):
            for word in (name, "./" + name, os.path.join(self.folder, name)):
                data = json.loads(self.good("read", word, "--json"))
                self.assertEqual(data["traces"][0]["file"], word)
                self.good("width", word, "--from", "140MHz", "--to", "150MHz")
                self.good("judge", "--radio", "X=" + word, *PARTS)
        # options behind it are options still, with its own marks escaped
        data = json.loads(self.good("read", "percent%2541.csv?rbw=30kHz", "--json"))
        self.assertEqual((data["traces"][0]["file"], data["traces"][0]["rbw_hz"]), ("percent%41.csv", 30000))
        code, _, err = self.run_batch("read", "percentA.csv")
        self.assertEqual(code, 1, err)


if __name__ == "__main__":
    counted.main()
