#!/usr/bin/env python3
"""The spreadsheet from outside: read by openpyxl, worked again by LibreOffice, held against `judge --json`."""
import json
import os
import re
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import unittest
import zipfile

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path[:0] = [HERE, os.path.join(HERE, ".."), os.path.join(HERE, "..", "batch")]
import bench_files  # noqa: E402
import counted  # noqa: E402
import sheets  # noqa: E402
import openpyxl  # noqa: E402

BATCH = os.path.abspath(os.path.join(os.environ.get("SP_BUILD_ROOT", "build"), "app", "spurproof-batch"))
SAMPLES = os.path.join(os.environ.get("SP_SOURCE_ROOT", os.path.join(HERE, "..", "..")), "samples")
SAMPLE, WHOSE = os.path.join(SAMPLES, "club.sheet"), os.path.join(SAMPLES, "pocket.sheet")
HOSTILE = ["=cmd|' C calc'!A0", "+1+1", "-2+3", "@SUM(1)", "a?b*c\\d", "'quoted'", "a name much longer than a sheet's may be, twice",
           "a name much longer than a sheet's may be, again", "History", "history", "<b>&amp;", "_x003D_1"]
# What the hard bench is for: every verdict and every way to it.
HARD_MASK = bench_files.MASK.replace("harmonics=10", "harmonics=8\nsearch=100MHz 1600MHz").replace("ceiling_dbm=-16.0206\nrelief_dbm=-20\n", "")
HARD_CHAIN = bench_files.CHAIN.replace("; 1600MHz 10.11 0.05", "; 1000MHz 10.06 0.04")
HARD_ANALYZER = bench_files.ANALYZER.replace("third_harmonic_intercept_dbm=40\n", "amplitude_correction=10MHz 0; 3GHz 0.8\n")
HARD_SHEET = """[bench]
title=All at once
chain=hard.chain
analyzer=hard.analyzer
mask=hard.mask
temperature_c=30
radio_vswr=1.5

[radio Ostrivel]
[condition Ostrivel/anchored]
fundamental=146MHz
meter_dbm=36.4
meter_u_db=0.2
keyed=plendour.csv;quernish.csv
[condition Ostrivel/meter only]
fundamental=146MHz
meter_dbm=37
keyed=shut.csv
[condition Ostrivel/no power]
fundamental=60MHz
keyed=quernish.csv
[condition Ostrivel/nothing known]
fundamental=146MHz
keyed=bare.csv
[condition Ostrivel/straddling]
fundamental=146MHz
keyed=straddle.csv
[condition Ostrivel/over]
fundamental=146MHz
keyed=over.csv
[condition Ostrivel/own mixer]
fundamental=146MHz
analyzer=poor.analyzer
keyed=over.csv
[condition Ostrivel/faint]
fundamental=146MHz
keyed=faint.csv
[condition Ostrivel/outside]
fundamental=300MHz
mask=us-amateur
keyed=straddle.csv
"""
# And whose the emissions are: steps by attenuator and by pad, the room, a notch, repeats; points far apart, so that it is worked again soon.
WHOSE_SHEET = HARD_SHEET[:HARD_SHEET.index("[condition")] + """[condition Ostrivel/stepped]
fundamental=146MHz
keyed=far-over.csv
step=over-step.csv 10
[condition Ostrivel/stepped by a pad]
fundamental=146MHz
keyed=far-over.csv
step=over-pad.csv 10
step_chain=pad.chain
[condition Ostrivel/stepped near the limit]
fundamental=146MHz
keyed=far-straddle.csv
step=straddle-step.csv 10
[condition Ostrivel/with the room]
fundamental=146MHz
keyed=far-over.csv
unkeyed=room.csv
[condition Ostrivel/behind a notch]
fundamental=146MHz
keyed=far-straddle.csv
notched=notched.csv
notched_chain=notch.chain
[condition Ostrivel/again]
fundamental=146MHz
keyed=far-straddle.csv;again.csv;once-more.csv
"""
HARD_NOTCH = """[stage stub]
kind=notch
rating_w=2
vswr=1.2
points=50MHz 0.5 0.05; 140MHz 3.0 0.2; 146MHz 30.0 0.5; 152MHz 3.0 0.2; 292MHz 0.4 0.05; 438MHz 12.0 0.3; 1600MHz 1.5 0.1
power_coefficient=0
"""


def hard_files(folder):
    bench_files.write(folder)
    lines = [(146e6, -3.0)]
    files = {
        "hard.mask": HARD_MASK, "hard.chain": HARD_CHAIN, "hard.analyzer": HARD_ANALYZER, "hard.sheet": HARD_SHEET,
        "poor.analyzer": HARD_ANALYZER.replace("second_intercept_dbm=60", "second_intercept_dbm=20")
                                      .replace("=10MHz 0; 3GHz 0.8", "=10MHz 0 0.1; 200MHz 0.3 0.2; 400MHz 0.5 0.15"),  # a check's
        "shut.csv": bench_files.trace([(292e6, -60.0)], 10, 4),
        "straddle.csv": bench_files.trace(lines + [(292e6, -42.7), (438e6, -50.0), (1168e6, -30.0)], 10, 5),
        "over.csv": bench_files.trace(lines + [(292e6, -33.0), (438e6, -30.0), (500e6, -35.0)], 10, 6),
        "faint.csv": bench_files.trace([(146e6, -43)], 10, 8),
        "whose.sheet": WHOSE_SHEET,
        "pad.chain": HARD_CHAIN.replace("9.98 0.03; 500MHz 10.02", "19.98 0.03; 500MHz 20.02").replace("10.06 0.04", "20.06 0.04"),
        "notch.chain": HARD_CHAIN.replace("stages=power-pad;small-pad", "stages=power-pad;stub") + HARD_NOTCH,
        "bare.csv": "\n".join(line for line in bench_files.trace(lines, 10, 7).split("\n") if not re.match("RBW|Detector", line)),
    }
    far = {
        "far-over.csv": (lines + [(292e6, -33.0), (438e6, -30.0), (500e6, -35.0)], 10),
        "far-straddle.csv": (lines + [(292e6, -42.7), (438e6, -50.0)], 10),
        # 292 MHz stays (the radio's), 438 falls by 20 dB (the mixer's third), 500 falls a little (some of each)
        "over-step.csv": (lines + [(292e6, -33.2), (438e6, -50.0), (500e6, -38.0)], 20),
        "straddle-step.csv": (lines + [(292e6, -46.5), (438e6, -50.2)], 20),
        "over-pad.csv": ([(146e6, -13.0), (292e6, -43.1), (438e6, -70.0), (500e6, -48.0)], 10),
        "room.csv": ([(438e6, -31.0), (500e6, -46.0)], 10),
        "notched.csv": ([(146e6, -23.0), (292e6, -33.2), (438e6, -52.0)], 10),
        "again.csv": (lines + [(292e6, -42.4), (438e6, -50.3)], 10),
        "once-more.csv": (lines + [(292e6, -42.9), (438e6, -49.5)], 10),
    }
    files.update((name, bench_files.trace(stand, attenuation, 9 + k, 10)) for k, (name, (stand, attenuation)) in enumerate(far.items()))
    for name, text in files.items():
        with open(os.path.join(folder, name), "w", encoding="utf-8") as file:
            file.write(text)


class Workbook(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.mkdtemp(prefix="spurproof-workbook-")
        cls.office = sheets.Office()
        hard_files(cls.folder)

    @classmethod
    def tearDownClass(cls):
        shutil.rmtree(cls.folder)
        cls.office.close()

    def run_batch(self, *words, **more):
        run = subprocess.run([BATCH, *words], capture_output=True, cwd=self.folder, env=dict(os.environ, LC_ALL="C.UTF-8"), timeout=1800, **more)
        self.assertGreaterEqual(run.returncode, 0, f"{words}: died of a signal: {run.stderr}")
        return run

    def report(self, sheet, name, *options):
        run = self.run_batch("report", sheet, "-o", name, *options)
        self.assertEqual((run.returncode, run.stderr), (0, b""))
        return os.path.join(self.folder, name)

    def judged(self, sheet, *options):
        run = self.run_batch("judge", sheet, "--json", *options)
        self.assertEqual(run.returncode, 0, run.stderr)
        return json.loads(run.stdout)

    def agrees(self, sheet, *options):
        path, judged = self.report(sheet, "agrees.xlsx", *options), self.judged(sheet, *options)
        for kind, book in (("stored", path), ("worked again", self.office.convert(path))):
            wrong, n = sheets.disagreements(book, judged)
            self.assertEqual(wrong, [], f"{kind}: not what judge says")
            self.assertGreater(n, 30)
        return judged

    def test_sample_agrees(self):
        self.agrees(SAMPLE)

    def test_small_bench_agrees(self):
        self.agrees("bench.sheet")
        self.agrees("bench.sheet", "--rule", "simple")

    def test_every_verdict_agrees(self):
        judged = self.agrees("hard.sheet")
        emissions = [e for radio in judged["radios"] for e in radio["emissions"]]
        self.assertEqual({e["verdict"] for e in emissions}, {"complies", "exceeds", "inconclusive", "not proven", "no limit"})
        for code in ("below-limit", "floor-below-limit", "above-limit", "within-uncertainty", "floor-above-limit", "untested", "analyzer-possible",
                     "outside-calibration", "no-power", "undersampled", "no-fundamental"):
            self.assertIn(code, {e["reason_code"] for e in emissions})
        self.agrees("hard.sheet", "--rule", "simple")

    def test_whose_it_is_agrees(self):
        self.agrees(WHOSE)
        judged = self.agrees("whose.sheet")
        emissions = [e for radio in judged["radios"] for e in radio["emissions"]]
        whose = {(e["origin"], e["origin_basis"], e["verdict"]) for e in emissions}
        for one in (("radio", "step", "exceeds"), ("analyzer", "step", "complies"), ("mixed", "step", "not proven"), ("ambient", "unkeyed", "not proven"),
                    ("radio", "predicted", "exceeds")):
            self.assertIn(one, whose)
        self.assertIn(3, {e["repeats"] for e in emissions})

    def test_no_figure_contradicts_a_verdict(self):
        n = 0
        for sheet in (SAMPLE, WHOSE, "hard.sheet", "whose.sheet"):
            book = openpyxl.load_workbook(self.report(sheet, "belies.xlsx"), data_only=True, read_only=True)
            rows = [(row["Radio and condition"], row["Verdict"], row["Room, dB"]) for row in sheets.table(book["Summary"], "Radio and condition")]
            for page in sheets.condition_sheets(book):
                rows.append((page.title, sheets.fact(page, "Verdict"), sheets.beside(page, "Room, dB")))
                rows += [(page.title, row["Verdict"], row["Room, dB"]) for row in sheets.table(page, "Emission", "Verdict")]
            for where, verdict, room in rows:
                bad = isinstance(room, (int, float)) and (verdict == "complies" and room < 0 or verdict == "exceeds" and room > 0)
                self.assertFalse(bad, (sheet, where, verdict, room))
                n += isinstance(room, (int, float))
        self.assertGreater(n, 200)

    def test_terms_that_nobody_stated_are_marked(self):
        judged = self.judged(SAMPLE)
        book = openpyxl.load_workbook(self.report(SAMPLE, "assumed.xlsx"), data_only=True, read_only=True)
        for page, radio in zip(sheets.condition_sheets(book), judged["radios"]):
            rows = [row for row in page.iter_rows(values_only=True) if row[1] in ("normal", "rectangular", "U-shaped", "one-sided")]
            marked = [row[0].endswith(" *") for row in rows]
            self.assertEqual(marked, [str(row[6]).startswith("yes") for row in rows])
            self.assertEqual(sum(marked), sum(len(e["assumed"]) for e in radio["emissions"]))

    def test_every_sweep_is_named_with_its_purpose(self):
        book, judged = openpyxl.load_workbook(self.report("whose.sheet", "purposes.xlsx", "--traces")), self.judged("whose.sheet")
        listed = sheets.table(book["Provenance"], "Radio and condition", "SHA-256 of its bytes")
        self.assertEqual([(row["Radio and condition"], row["Purpose"], row["File?options (column)"].split(" (")[0], row["SHA-256 of its bytes"]) for row in listed],
                         [(radio["name"], sweep["purpose"], sweep["file"], sweep["sha256"]) for radio in judged["radios"] for sweep in radio["sweeps"]])
        self.assertEqual({row["Purpose"] for row in listed}, {"keyed", "step", "unkeyed", "notched"})
        hashes = {cell for row in book["Provenance"].iter_rows(values_only=True) for cell in row}
        for name in ("pad.chain", "notch.chain"):
            self.assertIn(self.chain_hash(name), hashes, "a chain of a step, of a notched sweep")
        for wanted, condition in ((["keyed", "step, +10 dB"], "Ostrivel stepped"), (["keyed", "notched"], "Ostrivel behind a notch"),
                                  (["keyed", "unkeyed"], "Ostrivel with the room"), (["keyed"] * 3, "Ostrivel again")):
            sheet = next(sheet for sheet in book if sheet.title.startswith("Sweeps " + condition[:15]) and condition[-5:] in sheet["A1"].value)
            self.assertEqual([cell.split(":")[0] for cell in next(sheet.iter_rows(min_row=4, max_row=4, values_only=True)) if cell], wanted)

    def chain_hash(self, name):
        run = self.run_batch("chain", name, "--at", "146MHz", "--json")
        return json.loads(run.stdout)["sha256"]

    def test_levels_margins_and_verdicts_are_formulas(self):
        book = openpyxl.load_workbook(self.report("bench.sheet", "formulas.xlsx"))
        for sheet in sheets.condition_sheets(book):
            for row in sheets.table(sheet, "Emission", "Verdict"):
                for head in ("Level at the socket, dBm", "Level, dBc", "Margin, dB", "U of margin, dB", "Verdict"):
                    if row["Limit, dBm"] not in ("none", "not known") and row[head] is not None:
                        self.assertTrue(str(row[head]).startswith("="), (sheet.title, row["Emission"], head, row[head]))

    def test_a_bound_is_written_as_one(self):
        """What was not seen is at most at its level, in dBm and dBc: "<" stands before the number, which stays a number."""
        book, bounds = openpyxl.load_workbook(self.report(SAMPLE, "bounds.xlsx")), {"yes": 0, "no": 0}
        for sheet in sheets.condition_sheets(book):
            below = next(row[0].row for row in sheet.iter_rows() if row[0].value == "Emission" and row[14].value == "Verdict") + 1
            while sheet.cell(below, 1).value:
                seen = sheet.cell(below, 3).value
                for column in (4, 6):
                    cell = sheet.cell(below, column)  # empty: not swept
                    self.assertEqual("<" in cell.number_format, seen == "no" and cell.value is not None, (sheet.title, below, column))
                bounds[seen] += 1
                below += 1
        self.assertTrue(bounds["yes"] > 10 and bounds["no"] > 10, bounds)

    def test_wrong_stored_value_is_caught(self):
        path, judged = self.report("bench.sheet", "right.xlsx"), self.judged("bench.sheet")
        bad = os.path.join(self.folder, "wrong.xlsx")
        sheets.edited(path, bad, sheets.first_working(path), lambda text: sheets.with_cached(text, "K6", 99))
        caught, _ = sheets.disagreements(bad, judged)
        self.assertEqual([(what, got) for _, what, got, _ in caught], [("2nd harmonic: margin", 99)])
        kept, _ = sheets.disagreements(self.office.convert(bad, recalculate=False), judged)
        self.assertEqual(len(kept), 1, "a conversion that does not work the formulas again should keep what is stored")
        again, _ = sheets.disagreements(self.office.convert(bad), judged)
        self.assertEqual(again, [], "worked again, the wrong value is gone")

    def test_wrong_formula_is_caught(self):
        path, bad = self.report("bench.sheet", "right.xlsx"), os.path.join(self.folder, "wrong-formula.xlsx")
        sheets.edited(path, bad, sheets.first_working(path), lambda text: text.replace("<f>J6-D6</f>", "<f>D6-J6</f>"))
        self.assertEqual(sheets.disagreements(bad, self.judged("bench.sheet"))[0], [], "its stored value is still right")
        self.assertTrue(sheets.disagreements(self.office.convert(bad), self.judged("bench.sheet"))[0])

    def test_another_loss_moves_the_verdict(self):
        path = self.report("bench.sheet", "loss.xlsx")
        book = openpyxl.load_workbook(path)
        chain = book["Chain"]
        head = next(row for row in chain.iter_rows() if row[0].value == "Radio and condition")
        column = next(cell.column for cell in head if cell.value == "Loss of power-pad, dB")
        cell = chain.cell(head[0].row + 2, column)  # the first radio's second harmonic
        before = openpyxl.load_workbook(path, data_only=True)
        cell.value += 20
        moved = os.path.join(self.folder, "moved.xlsx")
        book.save(moved)
        after = openpyxl.load_workbook(self.office.convert(moved), data_only=True)
        old, new = (sheets.table(sheets.condition_sheets(b)[0], "Emission", "Verdict")[0] for b in (before, after))
        self.assertAlmostEqual(new["Level at the socket, dBm"] - old["Level at the socket, dBm"], 20, 9)
        self.assertAlmostEqual(new["Margin, dB"] - old["Margin, dB"], -20, 9)
        self.assertNotEqual(old["Verdict"], "not proven")
        self.assertEqual(sheets.fact(sheets.condition_sheets(after)[0], "Worst margin, dB"), new["Margin, dB"])
        page = sheets.table(sheets.page_sheets(after)[0], "Emission", "Whose")
        self.assertIn((new["Level at the socket, dBm"], new["Verdict"]), [(row["Level, dBm"], row["Verdict"]) for row in page])

    def test_a_page_for_each_radio(self):
        path = self.report(WHOSE, "paged.xlsx")
        book, radios = openpyxl.load_workbook(path), self.judged(WHOSE)["radios"]
        pages = sheets.page_sheets(book)
        self.assertEqual([page.title for page in pages], [radio["name"].replace("/", " ") for radio in radios])
        for page in pages:
            self.assertEqual((page.sheet_properties.pageSetUpPr.fitToPage, page.page_setup.orientation), (True, "portrait"))
        with zipfile.ZipFile(path) as parts:
            pictures = [name for name in parts.namelist() if name.startswith("xl/media/")]
        self.assertEqual(len(pictures), len(pages) + 1, "a chart each, and the figure")
        for name in book.sheetnames:
            if not (name == "Summary" or name in [page.title for page in pages]):
                book.remove(book[name])
        alone = os.path.join(self.folder, "pages.xlsx")
        book.save(alone)
        printed = subprocess.run(["pdfinfo", self.office.convert(alone, kind="pdf")], capture_output=True, check=True, text=True).stdout
        self.assertEqual(re.search(r"Pages: *(\d+)", printed)[1], str(1 + len(pages)), "the summary and each radio on a page of its own")

    def test_text_stays_text(self):
        names = [name for name in HOSTILE]
        with open(os.path.join(self.folder, "hostile.sheet"), "w", encoding="utf-8") as file:
            file.write(bench_files.SHEET[:bench_files.SHEET.index("[radio")].replace("title=Two pads", "title==HYPERLINK(\"http://x\",\"y\") & more")
                       + "operator==cmd|' /C calc'!A0\nplace=@here\n\n"
                       + "".join(f"[radio {name}]\nfundamental=146MHz\nkeyed=plendour.csv?from=140MHz&to=160MHz\n"
                                 f"pinned=146MHz 30 =SUM(A1:A9); 150MHz -41.5 spot {i}\n\n" for i, name in enumerate(names)))
        path = self.report("hostile.sheet", "hostile.xlsx", "--traces")
        own = re.compile(r"=(SUM\(|SQRT\(SUMSQ\(|IF\(|MIN\(|NORMSDIST\(|10\^\(|(?:'[^!]*'|[\w.]+)!\$?[A-Z]+\$?\d+(?:/10\^6)?$|[A-Z]\d+[-*]\$?[A-Z]\$?\d+$)")
        for book in (openpyxl.load_workbook(path), openpyxl.load_workbook(self.office.convert(path))):
            texts = set()
            for sheet in book:
                self.assertLessEqual(len(sheet.title), 31)
                self.assertFalse(set(sheet.title) & set("[]:*?/\\"), sheet.title)
                for cell in (cell for row in sheet.iter_rows() for cell in row if isinstance(cell.value, str)):
                    if cell.data_type == "f":
                        self.assertRegex(cell.value, own)
                    else:
                        texts.add(cell.value)
            texts = {text.replace("_x005F_", "_") for text in texts}  # openpyxl leaves the escape as it is
            for text in names + ["=cmd|' /C calc'!A0", "@here", "=SUM(A1:A9)", "spot 0", f"spot {len(names) - 1}"]:
                self.assertIn(text, texts)
            self.assertEqual(len({title.casefold() for title in book.sheetnames}), len(book.sheetnames))
        self.assertEqual(sheets.disagreements(path, self.judged("hostile.sheet"))[0], [])

    def test_equal_bytes(self):
        one, two = self.report("bench.sheet", "one.xlsx"), self.report("bench.sheet", "two.xlsx")
        out = self.run_batch("report", "bench.sheet", "-o", "-", "--format", "xlsx").stdout
        with open(one, "rb") as first, open(two, "rb") as second:
            first, second = first.read(), second.read()
        self.assertTrue(first == second, "two runs, two files")
        self.assertTrue(first == out, "standard output differs from the file")

    def test_sweeps_are_a_choice(self):
        without, with_them = self.report(WHOSE, "without.xlsx"), self.report(WHOSE, "with.xlsx", "--traces")
        self.assertLess(os.path.getsize(without), 1e6)
        for path, sweeps in ((without, 0), (with_them, len(self.judged(WHOSE)["radios"]))):
            book = openpyxl.load_workbook(path)
            self.assertEqual(sum(title.startswith("Sweeps ") for title in book.sheetnames), sweeps)
            self.assertEqual(len(book["Figure"]._charts), 1 if sweeps else 0)
            told = [cell for row in book["Provenance"].iter_rows(values_only=True) for cell in row if "are not in this spreadsheet" in str(cell)]
            self.assertEqual(len(told), 0 if sweeps else 1)

    def test_long_sweep_keeps_its_extremes(self):
        with open(os.path.join(self.folder, "long.csv"), "w", encoding="utf-8") as file:
            file.write("RBW,100,kHz\nAttenuation,10,dB\nDetector,Positive Peak\nFrequency (Hz),Level (dBm)\n")
            for i in range(50001):
                level = -3 if i == 2000 else -20.5 if i == 31234 else -99.25 if i == 40404 else -80 - i % 7
                file.write(f"{100e6 + 23e3 * i:.0f},{level}\n")
        run = self.run_batch("report", "--radio", "Long=long.csv", "--chain", "bench.chain", "--analyzer", "bench.analyzer", "--mask", "house.mask",
                             "-o", "long.xlsx", "--traces")
        self.assertEqual((run.returncode, run.stderr), (0, b""))
        book = openpyxl.load_workbook(os.path.join(self.folder, "long.xlsx"), read_only=True)
        self.addCleanup(book.close)
        sheet = book["Sweeps Long"]
        rows = [row for row in sheet.iter_rows(min_row=6, max_col=6, values_only=True) if row[0] is not None]
        self.assertEqual(len(rows), 20000)
        self.assertEqual([row[0] for row in rows], sorted({row[0] for row in rows}), "ascending, none twice")
        for place, level in ((2000, -3), (31234, -20.5), (40404, -99.25)):
            self.assertIn((100e6 + 23e3 * place, level), [row[:2] for row in rows])
        self.assertIn("50001 points", next(sheet.iter_rows(min_row=4, max_row=4, values_only=True))[0])

    def test_nothing_is_lost_on_an_error(self):
        path = self.report("bench.sheet", "kept.xlsx")
        with open(path, "rb") as file:
            before = file.read()
        spare = tempfile.mkdtemp(dir=self.folder)

        def small():
            signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
            resource.setrlimit(resource.RLIMIT_FSIZE, (40000, 40000))
        run = subprocess.run([BATCH, "report", "bench.sheet", "-o", "kept.xlsx"], capture_output=True, cwd=self.folder, preexec_fn=small,
                             env=dict(os.environ, TMPDIR=spare, LC_ALL="C.UTF-8"), timeout=1800)
        self.assertEqual((run.returncode, run.stdout), (1, b""))
        self.assertRegex(run.stderr.decode(), "^spurproof-batch: .*spreadsheet.*\n$")
        with open(path, "rb") as file:
            self.assertTrue(file.read() == before, "the old file is no longer what it was")
        self.assertEqual(os.listdir(spare), [], "temporary files left behind")

    def test_usage(self):
        for words, said in ((["bench.sheet"], "where to"), (["bench.sheet", "--slip", "--radio", "Plendour", "-o", "a.xlsx"], "pdf"), (["bench.sheet", "-o", "a.ods"], "xlsx"),
                            (["bench.sheet", "-o", "-"], "--format"), (["bench.sheet", "-o", "a.xlsx", "--radio", "Nobody"], "Plendour")):
            run = self.run_batch("report", *words)
            self.assertEqual((run.returncode, run.stdout), (1, b""), words)
            self.assertIn(said, run.stderr.decode())
        self.assertFalse({"a.ods", "a.xlsx"} & set(os.listdir(self.folder)))


if __name__ == "__main__":
    counted.main()
