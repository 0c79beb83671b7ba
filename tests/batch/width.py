#!/usr/bin/env python3
"""spurproof-batch width from outside, and a spur that a clock explains: figures by hand, defaults, refusals."""
import math
import os
import random
import sys

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path[:0] = [HERE, os.path.join(HERE, "..")]
import counted  # noqa: E402
from batch import Bench as Base  # noqa: E402

TOP = {"schema", "file", "from_hz", "to_hz", "points", "spacing_hz", "rbw_hz", "peak_hz", "peak_dbm", "noise_dbm", "occupied", "drops", "channel",
       "warnings"}
DROP = {"drop_db", "width_hz", "low_hz", "high_hz", "of_a_line_hz"}
BESIDE = {"step", "center_hz", "swept", "level_dbm", "relative_db", "in_noise"}


class Width(Base):
    def write(self, name, level, detector="rms", rbw=100, step=50, n=4001, center=146e6):
        rows = [f"RBW,{rbw} Hz", f"Detector,{detector}", "Frequency (Hz),Level (dBm)"]
        for i in range(n):
            offset = (i - n // 2) * step
            rows.append(f"{center + offset:.0f},{level(offset):.3f}")
        with open(os.path.join(self.folder, name), "w", encoding="utf-8") as file:
            file.write("\n".join(rows) + "\n")
        return name

    @staticmethod
    def bell(offset):
        """A Gaussian spectrum of sigma 3 kHz."""
        return max(-140, -20 - 10 * math.log10(math.e) * offset * offset / (2 * 3e3 ** 2))

    def test_figures(self):
        data = self.load("width", self.write("bell.csv", self.bell))
        self.assertLessEqual(TOP, data.keys())
        self.assertAlmostEqual(data["occupied"]["width_hz"], 5.1516586 * 3e3, delta=20)
        self.assertAlmostEqual(data["occupied"]["of_a_line_hz"], 218.8, delta=0.1)
        self.assertEqual([drop["drop_db"] for drop in data["drops"]], [6, 26, 40, 60])
        for drop in data["drops"]:
            self.assertLessEqual(DROP, drop.keys())
            self.assertAlmostEqual(drop["width_hz"], 2 * 3e3 * math.sqrt(2 * drop["drop_db"] / 10 * math.log(10)), delta=20)
            self.assertAlmostEqual(drop["high_hz"] - drop["low_hz"], drop["width_hz"], delta=1e-3)
        channel = data["channel"]
        self.assertEqual((channel["width_hz"], channel["spacing_hz"], channel["chosen"]), (16e3, 25e3, True))
        power = -20 + 10 * math.log10(3e3 * math.sqrt(2 * math.pi) / (100 * 1.0644670) * math.erf(8 / 3 / math.sqrt(2)))
        self.assertAlmostEqual(channel["level_dbm"], power, delta=0.01)
        self.assertEqual([beside["step"] for beside in channel["beside"]], [-2, -1, 1, 2])
        for beside in channel["beside"]:
            self.assertLessEqual(BESIDE, beside.keys())
            self.assertTrue(beside["swept"])
        self.assertEqual(data["warnings"], [])

    def test_options(self):
        name = self.write("bell.csv", self.bell)
        data = self.load("width", name, "--channel", "12kHz", "--spacing", "20kHz", "--center", "146.001MHz", "--from", "145.95MHz", "--to", "146.05MHz")
        channel = data["channel"]
        self.assertEqual((channel["width_hz"], channel["spacing_hz"], channel["center_hz"], channel["chosen"]), (12e3, 20e3, 146.001e6, False))
        self.assertEqual((data["from_hz"], data["to_hz"], data["points"]), (145.95e6, 146.05e6, 2001))
        self.assertGreater(self.load("width", name, "--analyzer", self.write_profile())["occupied"]["of_a_line_hz"], 300)

    def write_profile(self):
        with open(os.path.join(self.folder, "four.analyzer"), "w", encoding="utf-8") as file:
            file.write("[analyzer]\nname=Four\nfilter=sync4\n")
        return "four.analyzer"

    def test_warnings(self):
        name = self.write("bell.csv", self.bell, detector="peak")
        self.assertEqual([w["code"] for w in self.load("width", name)["warnings"]], ["sum-detector"])
        line = self.write("line.csv", lambda offset: max(-140, -20 - 12.0412 * (offset / 100) ** 2))
        self.assertIn("width-of-filter", [w["code"] for w in self.load("width", line)["warnings"]])
        self.assertIn("of a line", self.good("width", line))

    def test_refusals(self):
        self.assertIn("undersampled", self.refused("width", self.write("coarse.csv", self.bell, rbw=40)))
        noise = random.Random(3)
        flat = self.write("flat.csv", lambda offset: -100 + 10 * math.log10(noise.expovariate(1)), detector="sample")
        self.assertIn("nothing stands out", self.refused("width", flat))
        name = self.write("bell.csv", self.bell)
        self.assertIn("0 points", self.refused("width", name, "--from", "200MHz"))
        self.assertIn("greater than 0", self.refused("width", name, "--channel", "0"))
        self.assertIn("--spacing wide", self.refused("width", name, "--spacing", "wide"))
        self.refused("width")
        self.refused("width", name, name)
        self.refused("width", "missing.csv")


class Relation(Base):
    def test_a_clock_explains_a_spur(self):
        noise = random.Random(5)
        rows = ["RBW,10 kHz", "Attenuation,30 dB", "Detector,rms", "Average,power", "Averages,100", "Frequency (Hz),Level (dBm)"]
        for i in range(60001):
            f = 30e6 + i * 5e3
            level = -85 + 10 * math.log10(noise.gammavariate(100, 0.01))
            for at, top in ((146.52e6, 0), (120.52e6, -50), (73.26e6, -60), (200.123e6, -40)):
                level = max(level, top - 12.0412 * ((f - at) / 10e3) ** 2)
            rows.append(f"{f:.0f},{level:.2f}")
        with open(os.path.join(self.folder, "clock.csv"), "w", encoding="utf-8") as file:
            file.write("\n".join(rows) + "\n")
        with open(os.path.join(self.folder, "bench.sheet"), encoding="utf-8") as file:
            head = file.read().split("[radio", 1)[0]
        with open(os.path.join(self.folder, "clock.analyzer"), "w", encoding="utf-8") as file:
            file.write("[analyzer]\nname=Clocked\nresiduals=200.12MHz -90\n")
        sheet = head + "[radio Vosk]\nanalyzer=clock.analyzer\nclocks=26MHz; 19.2MHz\nkeyed=clock.csv\n"
        with open(os.path.join(self.folder, "clock.sheet"), "w", encoding="utf-8") as file:
            file.write(sheet)
        radio = self.load("judge", "clock.sheet")["radios"][0]
        found = {round(e["frequency_hz"] / 1e4): e for e in radio["emissions"] if e["order"] is None}
        self.assertEqual(found[12052]["relation_code"], "spur-relation")
        self.assertIn("difference of 1 f0 and 1 times the clock of 26 MHz", found[12052]["relation"])
        self.assertIn("1/2 of the fundamental", found[7326]["relation"])
        self.assertIsNone(found[20012]["relation"], "20 dB over what the profile lists, at 30 dB of attenuation")
        self.assertTrue(all(e["relation"] is None for e in radio["emissions"] if e["order"]))
        self.assertIn("clock of 26 MHz", self.good("judge", "clock.sheet"))
        with open(os.path.join(self.folder, "clock.analyzer"), "w", encoding="utf-8") as file:
            file.write("[analyzer]\nname=Clocked\nresiduals=120.52MHz -82; 200.12MHz -90\n")
        radio = self.load("judge", "clock.sheet")["radios"][0]
        found = {round(e["frequency_hz"] / 1e4): e for e in radio["emissions"] if e["order"] is None}
        self.assertEqual(found[12052]["relation_code"], "spur-residual")


if __name__ == "__main__":
    counted.main()
