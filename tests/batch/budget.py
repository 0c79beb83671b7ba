#!/usr/bin/env python3
"""spurproof-batch budget from outside: terms add up to judge's own U, what cancels, degrees of freedom of a run, drift of the check source, draws."""
import math
import os
import shutil
import sys

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path[:0] = [HERE, os.path.join(HERE, "..")]
import counted  # noqa: E402
from batch import Bench as Base  # noqa: E402

SAMPLES = os.path.join(os.environ.get("SP_SOURCE_ROOT", os.path.join(HERE, "..", "..")), "samples")
TERM = {"term", "text", "estimate_db", "distribution", "width_db", "divisor", "sensitivity", "u_db", "dof", "power_u_db", "power_dof", "dbc_u_db",
        "dbc_dof", "margin_u_db", "margin_dof", "source", "assumed", "cancels_in_dbc"}
COLUMNS = {"level": ("u_db", "dof"), "power": ("power_u_db", "power_dof"), "dbc": ("dbc_u_db", "dbc_dof"), "margin": ("margin_u_db", "margin_dof")}
ASKED = ("budget", "bench.sheet", "--radio", "Plendour")


class Budgets(Base):
    def sheet_with(self, name, old, new):
        with open(os.path.join(self.folder, "bench.sheet"), encoding="utf-8") as file:
            text = file.read()
        self.assertIn(old, text)
        with open(os.path.join(self.folder, name), "w", encoding="utf-8") as file:
            file.write(text.replace(old, new))
        return name

    def test_terms_and_sums(self):
        for which in (("--order", "2"), ("--order", "1"), ("--at", "292MHz"), ("--order", "7")):
            data = self.load(*ASKED, *which)
            self.assertTrue(data["terms"])
            for term in data["terms"]:
                self.assertEqual(TERM - set(term), set())
                self.assertEqual(term["sensitivity"], 1)
            for column, (u, dof) in COLUMNS.items():
                total = data["sums"][column]
                squares = math.fsum(term[u] ** 2 for term in data["terms"])
                self.assertAlmostEqual(total["u_db"], math.sqrt(squares), delta=1e-12)
                self.assertAlmostEqual(total["expanded_db"], total["k"] * total["u_db"], delta=1e-12)
                self.assertIsNone(total["dof"])
            for term in data["terms"]:  # the widest of its columns that a stated width leads to
                acts = term["u_db"] or term["dbc_u_db"] or term["power_u_db"]
                self.assertAlmostEqual(term["width_db"] / term["divisor"], acts, delta=1e-12, msg=term["term"])

    def test_the_judgings_own(self):
        radio = self.load("judge", "bench.sheet")["radios"][0]
        for emission in radio["emissions"]:
            data = self.load(*ASKED, "--order", str(emission["order"]))
            self.assertEqual((data["order"], data["level_dbm"], data["verdict"]), (emission["order"], emission["level_dbm"], emission["verdict"]))
            self.assertEqual(data["sums"]["level"]["expanded_db"], emission["expanded_db"])
            self.assertEqual(data["sums"]["dbc"]["expanded_db"], emission["dbc_expanded_db"])
            self.assertEqual(data["sums"]["margin"]["u_db"], emission["margin_u_db"])
        data = self.load(*ASKED, "--order", "1")
        self.assertEqual(data["sums"]["level"]["expanded_db"], radio["fundamental"]["expanded_db"])
        self.assertEqual(data["sums"]["dbc"]["u_db"], 0)

    def test_what_cancels(self):
        terms = {term["term"]: term for term in self.load(*ASKED, "--order", "2")["terms"]}
        self.assertEqual([name for name, term in terms.items() if term["cancels_in_dbc"]], ["accuracy", "self-heating"]
                         if "self-heating" in terms else ["accuracy"])
        self.assertAlmostEqual(terms["flatness"]["dbc_u_db"], math.sqrt(2) * terms["flatness"]["u_db"], delta=1e-12)
        self.assertIn("cancels", self.good(*ASKED, "--order", "2"))

    def test_drift_of_the_check_source(self):
        sheet = self.sheet_with("drift.sheet", "temperature_c=22\n", "temperature_c=22\ncheck_before_dbm=-20.00\ncheck_after_dbm=-20.30\n")
        before, after = self.load(*ASKED, "--order", "2"), self.load("budget", sheet, "--radio", "Plendour", "--order", "2")
        drift = [term for term in after["terms"] if term["term"] == "check-drift"][0]
        u = 0.3 / math.sqrt(3)
        self.assertAlmostEqual(drift["u_db"], u, delta=1e-9)
        self.assertEqual((drift["power_u_db"], drift["dbc_u_db"], drift["cancels_in_dbc"]), (drift["u_db"], 0, True))
        self.assertEqual((drift["distribution"], drift["source"]), ("one-sided", "check"))
        self.assertAlmostEqual(after["sums"]["level"]["u_db"], math.hypot(before["sums"]["level"]["u_db"], u), delta=1e-9)
        self.assertAlmostEqual(after["sums"]["dbc"]["u_db"], before["sums"]["dbc"]["u_db"], delta=1e-12)
        power = self.load("budget", sheet, "--radio", "Plendour", "--order", "1")
        self.assertAlmostEqual([t["u_db"] for t in power["terms"] if t["term"] == "check-drift"][0], u, delta=1e-9)
        self.assertNotIn("not-yet-used", [w["code"] for w in self.load("judge", sheet)["warnings"]])
        drawn = self.load("budget", sheet, "--radio", "Plendour", "--order", "2", "--monte-carlo", "100000")["monte_carlo"]["level"]
        plain = self.load(*ASKED, "--order", "2", "--monte-carlo", "100000")["monte_carlo"]["level"]
        self.assertAlmostEqual(drawn["mean_db"] - plain["mean_db"], 0.15, delta=0.02)  # what reads less later reads too little: the truth is higher

    def test_degrees_of_freedom_of_a_run(self):
        shutil.copy(os.path.join(SAMPLES, "thimble.run"), self.folder)
        with open(os.path.join(self.folder, "thimble.run"), encoding="utf-8") as file:
            run = file.read()
        with open(os.path.join(self.folder, "bench.chain"), encoding="utf-8") as file:
            text = file.read()
        text = text.replace("points=50MHz 9.98 0.03; 500MHz 10.02 0.03; 1600MHz 10.11 0.05", "run=thimble.run")
        with open(os.path.join(self.folder, "by-run.chain"), "w", encoding="utf-8") as file:
            file.write(text)
        self.assertIn("stage=thimble", run)
        data = self.load("budget", "bench.sheet", "--chain", "by-run.chain", "--radio", "Plendour", "--order", "2")
        chain = [term for term in data["terms"] if term["term"] == "chain"][0]
        self.assertGreater(chain["dof"], 3)
        shares = ((chain["u_db"], chain["dof"]), (chain["power_u_db"], chain["power_dof"]))
        expected = chain["dbc_u_db"] ** 4 / math.fsum(u ** 4 / dof for u, dof in shares)
        self.assertAlmostEqual(chain["dbc_dof"] / expected, 1, delta=1e-9)
        for column, (u, dof) in COLUMNS.items():
            fourths = math.fsum(term[u] ** 4 / term[dof] for term in data["terms"] if term[dof])
            expected = math.floor(data["sums"][column]["u_db"] ** 4 / fourths * (1 + 1e-12)) if fourths else None
            self.assertEqual(data["sums"][column]["dof"], expected if expected and expected < 1e9 else None, column)
        self.assertGreaterEqual(data["sums"]["level"]["k"], 2)

    def test_draws(self):
        asked = (*ASKED, "--order", "2", "--monte-carlo", "50000", "--seed")
        data, again, other = self.load(*asked, "7"), self.load(*asked, "7"), self.load(*asked, "8")
        self.assertEqual(data, again)
        self.assertNotEqual(data["monte_carlo"], other["monte_carlo"])
        for column in COLUMNS:
            drawn = data["monte_carlo"][column]
            self.assertAlmostEqual(drawn["u_db"] / data["sums"][column]["u_db"], 1, delta=0.05, msg=column)
            self.assertLessEqual(drawn["shortest_high_db"] - drawn["shortest_low_db"], drawn["high_db"] - drawn["low_db"] + 1e-12)
        self.assertIn("50000 draws, seed 7", self.good(*asked, "7"))

    def test_a_notch_turned_around(self):
        """Everything reflected on both sides: the first order says 6.1 dB and symmetric; the draws end at 20 lg 2 above and nowhere below."""
        with open(os.path.join(self.folder, "bench.chain"), encoding="utf-8") as file:
            text = file.read()
        with open(os.path.join(self.folder, "bare.chain"), "w", encoding="utf-8") as file:
            file.write(text.replace("vswr=1.10\n", "vswr=50MHz 1e6; 1600MHz 1e6\n"))
        asked = ("budget", "bench.sheet", "--chain", "bare.chain", "--radio", "Plendour", "--order", "2", "--monte-carlo", "50000")
        data = self.load(*asked)
        drawn, first = data["monte_carlo"]["level"], data["sums"]["level"]
        self.assertLess(abs(drawn["high_db"]), first["expanded_db"])
        self.assertLess(drawn["low_db"], -drawn["high_db"])

    def test_refused(self):
        self.assertIn("--order N (1: the fundamental) or --at F", self.refused(*ASKED))
        self.refused(*ASKED, "--order", "2", "--at", "292MHz")
        self.assertIn("no level of order 44", self.refused(*ASKED, "--order", "44"))
        self.assertIn("no level was found near 30 MHz", self.refused(*ASKED, "--at", "30MHz"))
        self.assertIn("--order", self.refused(*ASKED, "--order", "two"))
        self.assertIn("--monte-carlo", self.refused(*ASKED, "--order", "2", "--monte-carlo", "1e99"))
        self.assertIn("whose level", self.refused("budget", "bench.sheet", "--order", "2"))
        self.assertIn("Nobody", self.refused("budget", "bench.sheet", "--radio", "Nobody", "--order", "2"))


if __name__ == "__main__":
    counted.main()
