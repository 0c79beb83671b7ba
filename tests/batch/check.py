#!/usr/bin/env python3
"""spurproof-batch check from outside: a check worked by hand, JSON, the lines to paste, its analyzer by name, by file and by option, bad checks."""
import math
import os
import shutil
import sys

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path[:0] = [HERE, os.path.join(HERE, "..")]
import counted  # noqa: E402
from batch import PLACE, Bench as Base  # noqa: E402

SAMPLES = os.path.join(os.environ.get("SP_SOURCE_ROOT", os.path.join(HERE, "..", "..")), "samples")
DAY = ("--on", "2026-11-28")
GOOD = ("[check]\nanalyzer=Some box\nlevel_u_db=0.1\nlead_loss=100MHz 0.1 0.02; 200MHz 0.2 0.02\nsource_vswr=1\n"
        "[at 100MHz]\nlevel=-10.02\nshows=-10.45; -10.44; -10.46\n[at 200MHz]\nlevel=-10\nshows=-10.60\n")


class Checking(Base):
    @classmethod
    def setUpClass(cls):
        super().setUpClass()
        for name in ("pocket-check.run", "pocket.analyzer", "blank.analyzer", "thimble.run"):
            shutil.copy(os.path.join(SAMPLES, name), cls.folder)

    def put(self, name, text):
        with open(os.path.join(self.folder, name), "w", encoding="utf-8") as file:
            file.write(text)
        return name

    def test_by_hand(self):
        data = self.load("check", self.put("good.run", GOOD), *DAY)
        self.assertEqual((data["schema"], data["analyzer"], len(data["at"])), (1, "Some box", 2))
        first, second = data["at"]
        self.assertEqual({"frequency_hz", "attenuation_db", "correction_db", "u_db", "dof", "expanded_db", "budget"} - set(first), set())
        self.assertEqual((first["frequency_hz"], first["attenuation_db"]), (100e6, None))
        self.assertAlmostEqual(first["correction_db"], -10.02 - 0.1 + 10.45, delta=1e-12)
        self.assertAlmostEqual(second["correction_db"], -10 - 0.2 + 10.6, delta=1e-12)
        repeats, digit = 0.01 / math.sqrt(3), 0.005 / math.sqrt(3)  # the source is matched: no mismatch
        u = math.sqrt(repeats ** 2 + 0.1 ** 2 + 0.02 ** 2 + digit ** 2)
        self.assertAlmostEqual(first["u_db"], u, delta=1e-12)
        self.assertEqual(first["dof"], math.floor(u ** 4 / (repeats ** 4 / 2)))
        self.assertAlmostEqual(second["u_db"], math.sqrt(0.01 ** 2 + 0.1 ** 2 + 0.02 ** 2 + digit ** 2), delta=1e-12)  # the first's scatter

    def test_the_sums(self):
        for point in self.load("check", "pocket-check.run", *DAY)["at"]:
            self.assertAlmostEqual(point["u_db"], math.sqrt(math.fsum(t["u_db"] ** 2 for t in point["budget"])), delta=1e-12)
            self.assertAlmostEqual(point["expanded_db"], point["k"] * point["u_db"], delta=1e-12)

    def test_beyond_what_is_stated(self):
        data = self.load("check", "pocket-check.run", *DAY)
        self.assertEqual([w["code"] for w in data["warnings"]], ["check-between", "check-switching", "check-beyond"])
        values = data["warnings"][1]["values"]  # 0, 20 and 30 dB against 10 dB at 145.6 MHz: a tenth of a dB for each 10 dB
        self.assertEqual((values["attenuation_db"], round(values["least_db"], 6), round(values["most_db"], 6), values["stated"]), (10, -0.1, 0.2, True))
        for point in data["at"]:
            self.assertEqual(point["on_curve"], point["attenuation_db"] == 10)
        self.assertEqual([p["frequency_hz"] for p in data["at"] if p["beyond"]], [1.5e9])
        self.assertEqual(data["attenuation_db"], 10)
        self.assertEqual([row["term"] for row in data["left"]], ["accuracy", "flatness", "attenuator-switch", "rbw-switch", "scale", "repeatability"])
        self.assertLess(data["left"][0]["left_u_db"], 0.2 * data["left"][0]["stated_u_db"])

    def test_whose_profile(self):
        self.assertEqual(self.load("check", "pocket-check.run", *DAY)["analyzer"], "Lent small analyzer")
        blank = self.load("check", "pocket-check.run", "--analyzer", "blank.analyzer", *DAY)
        self.assertEqual(blank["analyzer"], "My analyzer")
        self.assertTrue(all(row["assumed"] for row in blank["left"]))
        self.assertIn("gone.analyzer", self.refused("check", self.put("gone.run", GOOD.replace("Some box", "gone.analyzer"))))

    def test_lines_to_paste(self):
        data = self.load("check", "pocket-check.run", *DAY)
        self.assertTrue(data["lines"].startswith("[analyzer]\nchecked=2026-10-18\ninterval_days=365\namplitude_correction=10MHz 0.39"), data["lines"])
        self.assertTrue(self.good("check", "pocket-check.run", *DAY).endswith(data["lines"]))
        with open(os.path.join(self.folder, "pocket.analyzer"), encoding="utf-8") as file:
            stated = [line for line in file.read().split("\n") if not line.startswith(("amplitude_correction", "[analyzer]"))]
        self.put("checked.analyzer", data["lines"] + "\n".join(stated))
        level = "sum(e['expanded_db'] for e in radio['emissions'] if e['expanded_db'])"
        def total(analyzer):
            judged = self.load("judge", os.path.join(SAMPLES, "pocket.sheet"), "--analyzer", analyzer)
            return sum(eval(level, {"radio": radio, "sum": sum}) for radio in judged["radios"])
        self.assertLess(total("checked.analyzer"), 0.8 * total("pocket.analyzer"))

    def test_a_budget_behind_a_check(self):
        lines = self.load("check", "pocket-check.run", *DAY)["lines"]
        self.put("behind.analyzer", lines + "name=box\nvswr=1.6\n")
        data = self.load("budget", os.path.join(SAMPLES, "pocket.sheet"), "--radio", "Tamsary", "--order", "2", "--analyzer", "behind.analyzer")
        terms = {term["term"]: term for term in data["terms"]}
        self.assertIn("correction", terms)
        self.assertNotIn("accuracy", terms)
        self.assertNotIn("flatness", terms)
        self.assertIn("attenuator-switch", terms)

    def test_what_is_assumed_is_said(self):
        bare = self.load("check", self.put("bare.run", "[check]\nanalyzer=a\n[at 1MHz]\nlevel=0\nshows=0\n"))
        self.assertEqual([w["code"] for w in bare["warnings"]], ["u-assumed", "u-assumed", "vswr-assumed", "vswr-assumed"])

    def test_bad_checks(self):
        cases = {"no-analyzer.run": (GOOD.replace("analyzer=Some box\n", ""), 1, 1), "no-level.run": (GOOD.replace("level=-10\n", ""), 9, 1),
                 "twice.run": (GOOD.replace("200MHz]", "100000kHz]"), 9, 1), "word.run": (GOOD.replace("-10.60", "loud"), 11, 7)}
        for name, (text, line, column) in cases.items():
            err = self.refused("check", self.put(name, text))
            place = PLACE.search(err)
            self.assertEqual((place[1], int(place[2]), int(place[3])), (name, line, column), err)
        self.assertIn("[check]", self.refused("check", "thimble.run"))
        self.assertIn("usage", self.refused("check"))
        self.assertIn("--on soon", self.refused("check", "pocket-check.run", "--on", "soon"))

    def test_age(self):
        late = self.load("check", "pocket-check.run", "--on", "2027-10-19")
        self.assertIn("calibration-old", [w["code"] for w in late["warnings"]])


if __name__ == "__main__":
    counted.main()
