#!/usr/bin/env python3
"""spurproof-batch calibrate from outside: the sample's run as worked by hand, JSON, the lines to paste, a chain that names the run, bad runs."""
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
TOP = {"schema", "stage", "at", "warnings"}
POINT = {"frequency_hz", "loss_db", "u_db", "dof", "expanded_db", "budget"}
TERM = {"term", "u_db", "dof"}
GOOD = "[run]\nstage=pad\n[at 10MHz]\nbefore=0\ninserted=-10\n"


def rows_of(path, *, first):
    """Rows of a page's tables whose first head is `first`, without head and rule."""
    found, inside = [], False
    with open(path, encoding="utf-8") as page:
        for line in page:
            cells = [cell.strip() for cell in line.strip().strip("|").split("|")]
            inside = line.startswith("|") and (inside or cells[0] == first)
            if inside and cells[0] != first and set(line) - set("|- \n"):
                found.append(cells)
    return found


class Calibrating(Base):
    @classmethod
    def setUpClass(cls):
        super().setUpClass()
        for name in ("thimble.run", "club.chain"):
            shutil.copy(os.path.join(SAMPLES, name), cls.folder)

    def put(self, name, text):
        with open(os.path.join(self.folder, name), "w", encoding="utf-8") as file:
            file.write(text)
        return name

    def test_sample_by_hand(self):
        data = self.load("calibrate", "thimble.run", *DAY)
        self.assertEqual(TOP - set(data), set())
        self.assertEqual((data["stage"], data["warnings"]), ("thimble", []))
        table = rows_of(os.path.join(SAMPLES, "thimble.md"), first="MHz")
        self.assertEqual(len(table), 3)
        for point, (mhz, loss, u, dof, expanded) in zip(data["at"], table):
            self.assertEqual(POINT - set(point), set())
            self.assertAlmostEqual(point["frequency_hz"], float(mhz) * 1e6, delta=1e-3)
            self.assertAlmostEqual(point["loss_db"], float(loss), delta=5e-4)
            self.assertAlmostEqual(point["u_db"], float(u), delta=6e-5)
            self.assertAlmostEqual(point["dof"], float(dof), delta=0.01 * float(dof))
            self.assertAlmostEqual(point["expanded_db"], float(expanded), delta=6e-5)

    def test_sample_terms_by_hand(self):
        budget = self.load("calibrate", "thimble.run", *DAY)["at"][1]["budget"]
        table = rows_of(os.path.join(SAMPLES, "thimble.md"), first="term")
        self.assertEqual([term["term"] for term in budget], [row[0] for row in table])
        for term, (_, _, u, dof) in zip(budget, table):
            self.assertEqual(TERM - set(term), set())
            self.assertAlmostEqual(term["u_db"], float(u), delta=6e-5, msg=term["term"])
            self.assertEqual(term["dof"], None if dof == "-" else float(dof))

    def test_the_sums(self):
        for point in self.load("calibrate", "thimble.run", *DAY)["at"]:
            squares = math.fsum(term["u_db"] ** 2 for term in point["budget"])
            fourths = math.fsum(term["u_db"] ** 4 / term["dof"] for term in point["budget"] if term["dof"])
            self.assertAlmostEqual(point["u_db"], math.sqrt(squares), delta=1e-12)
            self.assertEqual(point["dof"], math.floor(squares ** 2 / fourths))
            self.assertAlmostEqual(point["expanded_db"], point["k"] * point["u_db"], delta=1e-12)

    def test_age(self):
        def codes(day):
            return [warning["code"] for warning in self.load("calibrate", "thimble.run", "--on", day)["warnings"]]
        self.assertEqual(codes("2027-10-17"), [])
        self.assertEqual(codes("2027-10-18"), ["calibration-old"])
        self.assertIn("--on soon", self.refused("calibrate", "thimble.run", "--on", "soon"))
        self.good("calibrate", "thimble.run")  # today, whatever it is

    def test_lines_to_paste(self):
        data = self.load("calibrate", "thimble.run", *DAY)
        self.assertTrue(data["lines"].startswith("[stage thimble]\ncalibrated=2026-10-17\ntemperature_c=21\n"), data["lines"])
        self.assertTrue(self.good("calibrate", "thimble.run", *DAY).endswith(data["lines"]))
        self.put("pasted.chain", "[chain]\nstages=thimble\n" + data["lines"] + "kind=pad\nrating_w=2\nvswr=1.1\n")
        for at in self.load("chain", "pasted.chain")["at"]:
            point = [p for p in data["at"] if p["frequency_hz"] == at["frequency_hz"]][0]
            self.assertAlmostEqual(at["loss_db"], point["loss_db"], delta=6e-5)
            self.assertAlmostEqual(at["u_db"], point["u_db"], delta=6e-5)

    def test_a_chain_that_names_the_run(self):
        with open(os.path.join(self.folder, "club.chain"), encoding="utf-8") as file:
            lines = file.read().split("\n")
        begin = lines.index("[stage thimble]")
        points = [i for i in range(begin, len(lines)) if lines[i].startswith("points=")][0]
        lines[points] = "run=thimble.run"
        self.put("by-run.chain", "\n".join(lines))
        before, after = self.load("chain", "club.chain", "--at", "50MHz,150MHz,450MHz"), self.load("chain", "by-run.chain", "--at", "50MHz,150MHz,450MHz")
        self.assertEqual(after["warnings"], [])
        self.assertNotEqual(before["sha256"], after["sha256"])
        for old, new in zip(before["at"], after["at"]):
            self.assertAlmostEqual(old["loss_db"], new["loss_db"], delta=5e-4)
            self.assertLess(new["u_db"], old["u_db"])

    def test_the_table(self):
        text = self.good("calibrate", "thimble.run", *DAY)
        for word in ("Loss of thimble by substitution", "150 MHz", "9.990", "0.0315", "795", "mismatch-through", "U-shaped", "run=FILE"):
            self.assertIn(word, text)

    def test_what_is_assumed_is_said(self):
        data = self.load("calibrate", self.put("bare.run", GOOD))
        self.assertEqual([w["code"] for w in data["warnings"]], ["vswr-assumed"] * 3 + ["u-assumed"] * 4)
        self.assertIsNone(data["at"][0]["dof"])

    def test_bad_runs(self):
        cases = {"bad-number.run": (GOOD.replace("-10", "ten"), 5, 10), "no-stage.run": (GOOD.replace("stage=pad\n", ""), 1, 1),
                 "twice.run": (GOOD + "[at 10000kHz]\nbefore=0\ninserted=-10\n", 6, 1), "back.run": (GOOD.replace("before=0", "before=0@5")
                                                                                                    .replace("-10", "-10@4"), 5, 10),
                 "negative.run": (GOOD.replace("pad\n", "pad\nmeter_linearity_db=-1\n"), 3, 20)}
        for name, (text, line, column) in cases.items():
            err = self.refused("calibrate", self.put(name, text))
            place = PLACE.search(err)
            self.assertEqual((place[1], int(place[2]), int(place[3])), (name, line, column), err)
        self.assertIn("exchanged", self.refused("calibrate", self.put("round.run", GOOD.replace("-10", "10"))))
        self.assertIn("nowhere.run", self.refused("calibrate", "nowhere.run"))
        self.assertIn("usage", self.refused("calibrate"))
        self.refused("calibrate", "club.chain")

    def test_output_file(self):
        self.assertEqual(self.good("calibrate", "thimble.run", *DAY, "-o", "out.txt"), "")
        with open(os.path.join(self.folder, "out.txt"), encoding="utf-8") as file:
            self.assertEqual(file.read(), self.good("calibrate", "thimble.run", *DAY))


if __name__ == "__main__":
    counted.main()
