#!/usr/bin/env python3
"""Every figure as a file of its own: sizes by pdfinfo, a PNG's own header and an SVG's width; axes by the words of their ticks; names; bytes."""
import os
import re
import shutil
import struct
import subprocess
import sys
import tempfile
import xml.etree.ElementTree
import zlib

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
import batch_case  # noqa: E402
import counted  # noqa: E402

ROOT = os.environ.get("SP_SOURCE_ROOT") or os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
CLUB = os.path.join(ROOT, "samples", "club.sheet")
POCKET = os.path.join(ROOT, "samples", "pocket.sheet")
SVG = "{http://www.w3.org/2000/svg}"


def png_chunks(path):
    with open(path, "rb") as file:
        data = file.read()
    at, chunks = 8, {}
    while at < len(data):
        length, kind = struct.unpack(">I4s", data[at:at + 8])
        body = data[at + 8:at + 8 + length]
        assert zlib.crc32(kind + body) == struct.unpack(">I", data[at + 8 + length:at + 12 + length])[0], (path, kind)
        chunks.setdefault(kind, body)
        at += 12 + length
    return chunks


def ticks(path):
    """Words at the foot and at the left of a PDF's chart, each with its place in points."""
    html = subprocess.run(["pdftotext", "-bbox", path, "-"], capture_output=True, text=True, check=True).stdout
    height = float(re.search(r'<page [^>]*height="([0-9.]+)"', html)[1])
    words = [(float(x), float(y), text) for x, y, text in re.findall(r'xMin="([0-9.]+)" yMin="([0-9.]+)"[^>]*>([^<]*)</word>', html)]
    return [(round(x, 1), round(y, 1), text) for x, y, text in sorted(words) if re.fullmatch("[+\u2212]?[0-9]+", text) and (y > height - 18 or x < 24)]


class Figures(batch_case.Bench):
    def figures(self, sheet, *options, **more):
        folder = os.path.join(tempfile.mkdtemp(prefix="figures-", dir=self.folder), "made", "for it")
        self.good("figures", sheet, "-d", folder, *options, **more)
        return folder

    def test_every_figure_at_its_size_with_its_caption(self):
        folder = self.figures(CLUB, "--width-mm", "120", "--dpi", "150")
        with open(os.path.join(folder, "captions.txt"), encoding="utf-8") as file:
            captions = dict(line.rstrip("\n").split(": ", 1) for line in file)
        self.assertEqual(sorted(captions), sorted(set(os.listdir(folder)) - {"captions.txt"}))
        names = {os.path.splitext(name)[0] for name in captions}
        self.assertEqual(len(captions), 3 * len(names))
        for name in ("chart-Tulvannick", "chart-Dornimel_70_cm", "chart-log-Dornimel_2_m", "overlay-2_m", "room", "small-charts",
                     "staircase-Pendrowick_course_chain", "loss-Pendrowick_course_chain-brick"):
            self.assertIn(name, names)
        # a radio of one condition is drawn once
        self.assertNotIn("chart-log-Tulvannick", names)
        for name in names:
            path = os.path.join(folder, name)
            svg = xml.etree.ElementTree.parse(path + ".svg").getroot()
            self.assertEqual(svg.get("width"), "120mm")
            tall = float(svg.get("height").removesuffix("mm"))
            size = re.search(r"Page size: +([0-9.]+) x ([0-9.]+) pts", subprocess.run(["pdfinfo", path + ".pdf"], capture_output=True, text=True,
                                                                                      check=True).stdout)
            self.assertAlmostEqual(float(size[1]), 120 / 25.4 * 72, delta=0.01)
            self.assertAlmostEqual(float(size[2]), tall / 25.4 * 72, delta=0.01)
            chunks = png_chunks(path + ".png")
            width, height = struct.unpack(">II", chunks[b"IHDR"][:8])
            self.assertEqual(width, round(120 / 25.4 * 150))
            self.assertAlmostEqual(height, tall / 25.4 * 150, delta=1)
            self.assertEqual(struct.unpack(">IIB", chunks[b"pHYs"]), (round(150 / 0.0254), round(150 / 0.0254), 1))
            # what it shows, in the file as beside it
            described = svg.find(SVG + "desc").text
            self.assertTrue(described and svg.find(SVG + "title").text)
            self.assertIn(described.strip(), captions[name + ".svg"])
            self.assertEqual(captions[name + ".svg"], captions[name + ".png"])
        # the report's own words
        page = os.path.join(self.folder, "club.html")
        self.good("report", CLUB, "-o", page)
        with open(page, encoding="utf-8") as file:
            html = file.read()
        for said in ("Worst mistakes: with brick left out", "2nd harmonic: \u22129.2\u202fdBm, radio, exceeds", "so that harmonics stand under their number"):
            self.assertTrue(said in html, said)
            self.assertTrue(any(said in caption for caption in captions.values()), said)

    def test_charts_that_are_compared_have_the_same_axes(self):
        folder = self.figures(CLUB, "--format", "pdf")
        self.assertEqual({os.path.splitext(name)[1] for name in os.listdir(folder)}, {".pdf", ".txt"})

        def of(name):
            found = ticks(os.path.join(folder, name + ".pdf"))
            self.assertGreater(len(found), 7, name)
            return found
        one = of("chart-Tulvannick")
        for other in ("chart-Brundlow", "chart-Larquedon", "chart-Dornimel_2_m"):
            self.assertEqual(one, of(other), other)
        self.assertNotEqual(one, of("chart-Dornimel_70_cm"), "another band")
        self.assertEqual(of("chart-log-Dornimel_2_m"), of("chart-log-Dornimel_70_cm"))
        # a decade is as wide as the next one, on an axis in log f
        at = {text: x for x, _, text in of("chart-log-Dornimel_2_m")}
        self.assertAlmostEqual(at["200"] - at["100"], at["1000"] - at["500"], delta=3)

    def test_strange_names_and_equal_bytes(self):
        sheet = os.path.join(self.folder, "strange.sheet")
        with open(sheet, "w", encoding="utf-8") as file:
            file.write(f"[bench]\nchain={ROOT}/samples/club.chain\nanalyzer={ROOT}/samples/club.analyzer\nmask=us-amateur\n")
            for name in ("..\\..\\escape", "zwin", "Zwin", "=1+1<&>", "a\u202eb"):
                file.write(f"[radio {name}]\nfundamental=147.03MHz\nkeyed={ROOT}/samples/raw/brundlow.dat\n")
        made = []
        for _ in range(2):
            folder = self.figures(sheet, "--format", "svg,pdf", "--width-mm", "80", LC_NUMERIC="de_DE.UTF-8")
            for name in os.listdir(folder):
                self.assertRegex(name, r"^[^./\\<>:\"|?*][^/\\<>:\"|?*\x00-\x1f\u202e]*\.(svg|pdf|txt)$")
            with open(os.path.join(folder, "captions.txt"), encoding="utf-8") as file:
                for line in file:
                    self.assertIn(line.split(": ")[0], os.listdir(folder))
            made.append({name: open(os.path.join(folder, name), "rb").read() for name in os.listdir(folder)})
        self.assertEqual(made[0], made[1])
        self.assertIn("chart-.._.._escape.svg", made[0])
        self.assertEqual(len({name.casefold() for name in made[0]}), len(made[0]))
        self.assertEqual(len([name for name in made[0] if name.startswith("chart-") and name.endswith("-2.svg")]), 1)

    def test_inks(self):
        def colours(path):
            run = subprocess.run(["convert", path, "-resize", "25%", "-format", "%[fx:mean.r] %[fx:mean.g] %[fx:mean.b]", "info:"], capture_output=True,
                                 text=True, check=True)
            return [float(word) for word in run.stdout.split()]
        options = ("--format", "png", "--dpi", "72")
        for ink, check in (("--grey", lambda r, g, b: max(r, g, b) - min(r, g, b) < 1e-6 and r > 0.7), ("--dark", lambda r, g, b: max(r, g, b) < 0.4)):
            folder = self.figures(POCKET, *options, ink)
            names = [name for name in os.listdir(folder) if name.endswith(".png")]
            self.assertTrue(any(name.startswith("evidence-Orbanick-2nd_harmonic") for name in names))
            for name in (one for one in names if re.match("chart-Orb|overlay|room|small|evidence-Orb.*2nd|loss.*brick|stair", one)):
                self.assertTrue(check(*colours(os.path.join(folder, name))), (ink, name, colours(os.path.join(folder, name))))

    def test_what_cannot_be_is_refused_and_nothing_is_written(self):
        folder = os.path.join(self.folder, "none")
        for words, said in (((), "-d DIR"), (("-d", folder, "--width-mm", "79"), "80 to 600"), (("-d", folder, "--dpi", "x"), "--dpi"),
                            (("-d", folder, "--format", "svg,gif"), "gif"), (("-d", folder, "--format", ""), "--format"),
                            (("-d", folder, "--dark", "--grey"), "--grey"), (("-d", folder, "--dpi", "601"), "72 to 600")):
            self.assertIn(said, self.refused("figures", CLUB, *words))
        self.assertFalse(os.path.exists(folder))
        # a book that bears a figure's name stays, and so does all beside it
        os.mkdir(folder)
        book = os.path.join(folder, "captions.txt")
        self.good("pack", CLUB, "-o", os.path.join(self.folder, "x.benchbook"))
        shutil.copy(os.path.join(self.folder, "x.benchbook"), book)
        self.assertIn("captions.txt", self.refused("figures", CLUB, "-d", folder, "--format", "svg"))
        self.assertEqual(os.listdir(folder), ["captions.txt"])


if __name__ == "__main__":
    counted.main()
