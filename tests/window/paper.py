#!/usr/bin/python3
"""Slip and report from the window: the page is looked at before, follows the choice, and what is saved is what the command line writes."""
import os
import re
import subprocess
import sys

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path[:0] = [HERE, os.path.join(HERE, "..")]
import counted  # noqa: E402
from desk import BATCH, BUILD, SAMPLE, act, among, labels, name, until  # noqa: E402
from looks import unnamed  # noqa: E402
from window import Case  # noqa: E402

ALIKE = 0.02  # of a page's strokes: a printer's page has a few more; one that was drawn in pixels, a third more
PICTURES = os.path.join(BUILD, "window-pictures")


class Paper(Case):
    def keep(self, desk, dialog, what):
        os.makedirs(PICTURES, exist_ok=True)
        with open(os.path.join(PICTURES, what + ".png"), "wb") as file:
            file.write(subprocess.run(["convert", "ppm:-", "png:-"], input=desk.picture(dialog), capture_output=True, check=True).stdout)

    def same(self, path, *words):
        """What the window wrote is, byte for byte, what the command line writes."""
        other = self.place("other" + os.path.splitext(path)[1])
        subprocess.run([BATCH, "report", SAMPLE, "-o", other, *words], check=True, capture_output=True)
        with open(path, "rb") as one, open(other, "rb") as two:
            self.assertEqual(one.read(), two.read(), path)

    def strokes(self, path, page):
        svg = self.place("page.svg")
        subprocess.run(["pdftocairo", "-svg", "-f", str(page), "-l", str(page), path, svg], check=True)
        with open(svg, encoding="utf-8") as file:
            return file.read().count(" L ")

    def printed(self, desk, saved):
        """What comes to the printer is the file that was saved: as many pages, of its size, the same words, and the same drawing."""
        path = self.place("output.pdf")
        desk.keys("ctrl+p")
        desk.print_to_file()

        def about(file):
            """Pages, width and height in whole points; nothing of a file that is not whole yet."""
            told = subprocess.run(["pdfinfo", file], capture_output=True, text=True, check=False).stdout
            return [round(float(one)) for found in re.findall(r"^Pages: +(\d+)|^Page size: +([\d.]+) x ([\d.]+)", told, re.M) for one in found if one]
        until(lambda: about(path), "the print is whole")
        self.assertEqual((len(about(path)), about(path)), (3, about(saved)))
        words = [subprocess.run(["pdftotext", "-raw", one, "-"], capture_output=True, text=True, check=True).stdout.split() for one in (path, saved)]
        self.assertEqual(words[0], words[1])
        for page in range(1, min(2, about(path)[0]) + 1):
            self.assertLess(abs(self.strokes(path, page) / self.strokes(saved, page) - 1), ALIKE, f"page {page} has as many strokes")
        os.remove(path)

    def test_looked_at_and_saved(self):
        os.chdir(self.folder)  # where a print to a file goes
        self.addCleanup(os.chdir, HERE)
        slip, page, report, folder, figures = (self.place(one) for one in ("slip.pdf", "slip.html", "report.pdf", "slips", "figures"))
        with self.desk(SAMPLE, answers=[slip, page, report, folder, figures]) as desk:
            desk.judged()
            desk.choose(3)
            desk.keys("ctrl+p", does="win.paper")

            def shown():
                return [name(one) for one in among(desk.window, "image", leave=("tree table",))]
            until(lambda: any("Brundlow" in one and "page 1 of 1" in one for one in shown()), "the slip of the chosen radio")
            self.assertEqual(unnamed(desk.window), [])
            self.keep(desk, desk.window, "paper slip")
            desk.keys("ctrl+alt+s")
            until(lambda: os.path.exists(slip), "the slip as PDF")
            self.same(slip, "--slip", "--radio", "Brundlow")
            self.printed(desk, slip)
            desk.keys("ctrl+alt+s")
            until(lambda: os.path.exists(page), "the slip as a page")
            self.same(page, "--slip", "--radio", "Brundlow")
            desk.keys("space", "Down", "Return")  # the first list has the focus
            until(lambda: any("Course evening" in one and "page 1 of" in one for one in shown()), f"the report: {shown()}")
            desk.keys("Next")
            until(lambda: any("page 2 of" in one for one in shown()), "its second page")
            self.assertTrue(any(one.startswith("page 2 of ") for one in labels(desk.window)))
            desk.keys("alt+w")
            self.keep(desk, desk.window, "paper report")
            desk.keys("ctrl+alt+s")
            until(lambda: os.path.exists(report), "the report")
            self.same(report)
            self.printed(desk, report)
            act(desk.get("push button", "All slips\u2026"))
            until(lambda: os.path.isdir(folder) and len(os.listdir(folder)) == 6, "a slip for each radio")
            until(lambda: os.path.exists(os.path.join(folder, "Brundlow-K4.pdf")), "named after radio and serial")
            act(desk.get("push button", "All figures\u2026"))
            captions = os.path.join(figures, "captions.txt")
            until(lambda: os.path.exists(captions), "every figure, and their captions last")
            other = self.place("others")
            subprocess.run([BATCH, "figures", SAMPLE, "-d", other], check=True, capture_output=True)
            self.assertEqual(sorted(os.listdir(figures)), sorted(os.listdir(other)))
            for file in os.listdir(other):
                with open(os.path.join(figures, file), "rb") as one, open(os.path.join(other, file), "rb") as two:
                    self.assertTrue(one.read() == two.read(), file)
            desk.keys("alt+1")
            desk.keys("ctrl+p", does="win.paper")


if __name__ == "__main__":
    counted.main()
