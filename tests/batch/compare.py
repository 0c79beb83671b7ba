#!/usr/bin/env python3
"""spurproof-batch compare from outside: conditions side by side are judge's own numbers, and what moved is other - input."""
import csv
import io
import os
import shutil
import sys

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path[:0] = [HERE, os.path.join(HERE, "..")]
import bench_files  # noqa: E402
import counted  # noqa: E402
from batch import Bench as Base  # noqa: E402

ROW = {"name", "verdict", "worst_margin_db", "levels"}
LEVEL = {"order", "level_dbm", "margin_db", "verdict"}
MOVED = {"name", "order", "level_change_db", "limit_change_db", "margin_change_db", "notable", "verdict_before", "verdict_after", "expanded_before_db", "expanded_after_db", "flips"}


class Comparing(Base):
    def other_chain(self, more_db):
        """The same chain with every loss of its first pad that much greater."""
        path = os.path.join(self.folder, f"other{more_db}.chain")
        text = bench_files.CHAIN
        for loss in ("30.02", "30.10", "30.31"):
            text = text.replace(loss, f"{float(loss) + more_db:.2f}")
        with open(path, "w", encoding="utf-8") as file:
            file.write(text)
        return os.path.basename(path)

    def test_rows_are_judges(self):
        compared, judged = self.load("compare", "bench.sheet"), self.load("judge", "bench.sheet")
        self.assertEqual(compared["moved"], [])
        self.assertEqual([row["name"] for row in compared["rows"]], [radio["name"] for radio in judged["radios"]])
        for row, radio in zip(compared["rows"], judged["radios"]):
            self.assertLessEqual(ROW, row.keys())
            self.assertEqual((row["verdict"], row["worst_margin_db"]), (radio["verdict"], radio["worst_margin_db"]))
            self.assertEqual(row["power_w"], radio["fundamental"]["power_w"])
            self.assertEqual(len(row["levels"]), len(radio["emissions"]))
            for level, emission in zip(row["levels"], radio["emissions"]):
                self.assertLessEqual(LEVEL, level.keys())
                for key in LEVEL | {"expanded_db", "margin_expanded_db", "detected"}:
                    self.assertEqual(level[key], emission[key], key)

    def pivoted(self, *words):
        return self.good("compare", "pivot.sheet", "--pivot", *words)

    def test_bands_down_powers_across(self):
        with open(os.path.join(self.folder, "pivot.sheet"), "w", encoding="utf-8") as file:
            file.write(bench_files.SHEET[:bench_files.SHEET.index("[radio")] + "[radio =Plendour <b>]\n" + "".join(
                f"[condition =Plendour <b>/{name}]\nfundamental={f0}\nrated_w={watt}\nkeyed={trace}\n" for name, f0, watt, trace in (
                    ("low", "146MHz", 5, "plendour.csv"), ("high", "146MHz", 25, "quernish.csv"), ("other", "60MHz", 5, "quernish.csv"))))
        judged = {radio["condition"]: radio for radio in self.load("judge", "pivot.sheet")["radios"]}
        rows = list(csv.reader(io.StringIO(self.pivoted("--format", "csv"))))
        self.assertTrue(rows[0][0].startswith("'=Plendour <b>: room"), "a name that begins as a formula stays text")
        self.assertEqual(rows[1], ["band", "5 W", "5 W, of", "25 W", "25 W, of", "worst"])
        table = {row[0]: row for row in rows[2:4]}
        for band, column, name in (("2 m", 1, "low"), ("2 m", 3, "high")):
            room = judged[name]["deciding_margin_db"]
            self.assertEqual(table[band][column], f"{room:+.1f}" if room is not None else "-")
        self.assertEqual([row[0] for row in rows[2:4] if row[3] == ""], [band for band in table if band != "2 m"], "no 25 W there")
        html = self.pivoted("--format", "html")
        self.assertIn("<caption>=Plendour &lt;b&gt;: room", html)
        self.assertNotIn("<b>", html)
        dbc = self.pivoted("--dbc", "2")
        second = next(e for e in judged["low"]["emissions"] if e["order"] == 2)
        self.assertIn(f"{second['level_dbc']:.1f}", dbc)
        cells = self.load("compare", "pivot.sheet")["pivots"][0]["cells"]
        self.assertEqual({cell["name"]: cell["deciding_margin_db"] for cell in cells}, {one["name"]: one["deciding_margin_db"] for one in judged.values()})
        for words in (("--dbc", "1"), ("--format", "xml"), ("--json",)):
            self.assertEqual(self.run_batch("compare", "pivot.sheet", "--pivot", *words)[0], 1, words)

    def test_nothing_moves_with_itself(self):
        data = self.load("compare", "bench.sheet", "--with", "bench.sheet")
        self.assertEqual(data["moved"], [])
        self.assertTrue(all(one["verdict_before"] == one["verdict_after"] for one in data["conditions_moved"]))

    def test_another_chain(self):
        other = self.other_chain(0.5)
        before = self.load("judge", "bench.sheet")["radios"]
        after = self.load("judge", "bench.sheet", "--chain", other)["radios"]
        data = self.load("compare", "bench.sheet", "--with", other)
        self.assertTrue(data["moved"])
        then = {(r["name"], e["order"]): e for r in before for e in r["emissions"] if e["order"]}
        now = {(r["name"], e["order"]): e for r in after for e in r["emissions"] if e["order"]}
        seen = 0
        for move in data["moved"]:
            self.assertLessEqual(MOVED, move.keys())
            key = (move["name"], move["order"])
            if move["order"] is None:
                continue
            self.assertEqual(move["level_change_db"], now[key]["level_dbm"] - then[key]["level_dbm"])
            self.assertEqual((move["verdict_before"], move["verdict_after"]), (then[key]["verdict"], now[key]["verdict"]))
            self.assertEqual((move["expanded_before_db"], move["expanded_after_db"]),
                             (then[key]["margin_expanded_db"], now[key]["margin_expanded_db"]))
            self.assertEqual(move["flips"], then[key]["verdict"] != now[key]["verdict"])
            if then[key]["detected"] and now[key]["detected"]:
                self.assertAlmostEqual(move["level_change_db"], 0.5, delta=0.03)  # and a little more heat in the pads
                seen += 1
        self.assertGreaterEqual(seen, 2)

    def test_a_verdict_flips(self):
        data = self.load("compare", "bench.sheet", "--with", self.other_chain(6.8))
        flipped = [one for one in data["conditions_moved"] if one["verdict_before"] != one["verdict_after"]]
        self.assertEqual({(one["name"], one["verdict_before"], one["verdict_after"]) for one in flipped},  # no close sweep: before it was not proven
                         {("Plendour", "not proven", "inconclusive"), ("Quernish/2 m high", "not proven", "inconclusive")})
        for one in data["conditions_moved"]:
            self.assertAlmostEqual(one["power_change_db"], 6.8, delta=0.5)

    def test_the_calibrations_are_named(self):
        other = self.other_chain(0.5)
        hashes = [self.load("judge", "bench.sheet", *more)["chain_sha256"] for more in ((), ("--chain", other))]
        self.assertNotEqual(*hashes)
        for one in self.load("compare", "bench.sheet", "--with", other)["conditions_moved"]:
            self.assertEqual([one["chain_before_sha256"], one["chain_after_sha256"]], hashes)
        text = self.good("compare", "bench.sheet", "--with", other)
        self.assertEqual(text.count(f"({hashes[0][:12]}), then "), 1)
        self.assertIn(hashes[1][:12], text)
        self.assertNotIn(", then ", self.good("compare", "bench.sheet", "--with", "bench.sheet"))

    def test_the_limits_move(self):
        """Limit and margin move together by the level's move; text sums up what moves alike, each row and what is notable by choice."""
        other = self.other_chain(0.5)
        each = self.load("compare", "bench.sheet", "--with", other)
        self.assertEqual(each, self.load("compare", "bench.sheet", "--with", other, "--show", "each"))
        for move in each["moved"]:
            if move["margin_change_db"] is not None:
                self.assertAlmostEqual(move["limit_change_db"] - move["level_change_db"], move["margin_change_db"], delta=1e-9)
        self.assertTrue(each["alike"])
        for index, group in enumerate(each["alike"]):
            self.assertEqual(group["emissions"], sum(move.get("alike") == index for move in each["moved"]))
        text = self.good("compare", "bench.sheet", "--with", other)
        self.assertEqual(text.count("emissions move alike: level"), len(each["alike"]))
        self.assertNotIn("move alike", self.good("compare", "bench.sheet", "--with", other, "--show", "each"))
        far = self.other_chain(6.8)
        all_of_it, some = self.load("compare", "bench.sheet", "--with", far), self.load("compare", "bench.sheet", "--with", far, "--show", "notable")
        self.assertEqual(some["moved"], [move for move in all_of_it["moved"] if move["notable"]])
        self.assertTrue(all(move["notable"] for move in all_of_it["moved"] if move["flips"]))
        self.assertIn("expected alike, each or notable", self.refused("compare", "bench.sheet", "--show", "some"))

    def test_only_the_uncertainty(self):
        """A calibration with the same losses, known less well: no level moves, U does, and that is said."""
        path = os.path.join(self.folder, "loose.chain")
        with open(path, "w", encoding="utf-8") as file:
            file.write(bench_files.CHAIN.replace("500MHz 30.10 0.03", "500MHz 30.10 1.20").replace("50MHz 30.02 0.03", "50MHz 30.02 1.20"))
        data = self.load("compare", "bench.sheet", "--with", "loose.chain")
        second = [one for one in data["moved"] if (one["name"], one["order"]) == ("Plendour", 2)][0]
        self.assertEqual(second["level_change_db"], 0)
        self.assertGreater(second["expanded_after_db"], second["expanded_before_db"] + 1)

    def test_which_verdicts_flip_is_counted(self):
        other = self.other_chain(6.8)
        data = self.load("compare", "bench.sheet", "--with", other)
        emissions, conditions = (sum(one["flips"] for one in data[key]) for key in ("moved", "conditions_moved"))
        self.assertGreater(emissions, 0)
        text = self.good("compare", "bench.sheet", "--with", other)
        self.assertIn(f"Verdicts that flip: {emissions} of emissions, {conditions} of conditions.", text)
        self.assertEqual(sum(line.endswith("flips") for line in text.split("\n")), emissions)

    def test_a_radio_that_is_gone(self):
        with open(os.path.join(self.folder, "bench.sheet"), encoding="utf-8") as file:
            text = file.read()
        with open(os.path.join(self.folder, "fewer.sheet"), "w", encoding="utf-8") as file:
            file.write(text.replace("[radio Plendour]", "[radio Ummerdale]"))
        moved = {one["name"]: one for one in self.load("compare", "bench.sheet", "--with", "fewer.sheet")["conditions_moved"]}
        self.assertIsNone(moved["Plendour"]["verdict_after"])
        self.assertIsNone(moved["Ummerdale"]["verdict_before"])
        self.assertEqual(moved["Quernish/2 m low"]["verdict_before"], moved["Quernish/2 m low"]["verdict_after"])

    def test_with_a_book(self):
        self.good("pack", "bench.sheet", "-o", "bench.benchbook")
        self.assertEqual(self.load("compare", "bench.sheet", "--with", "bench.benchbook")["moved"], [])

    def test_tables(self):
        out = self.good("compare", "bench.sheet")
        for word in ("Plendour", "Quernish/2 m low", "room dB", "not seen"):
            self.assertIn(word, out)
        self.assertIn("No emission moved.", self.good("compare", "bench.sheet", "--with", "bench.sheet"))
        self.assertIn("verdict before", self.good("compare", "bench.sheet", "--with", self.other_chain(1)))

    def test_bad_input(self):
        self.assertIn("no-such", self.refused("compare", "bench.sheet", "--with", "no-such.sheet"))
        self.assertIn("no-such", self.refused("compare", "bench.sheet", "--with", "no-such.chain"))
        shutil.copy(os.path.join(self.folder, "bench.chain"), os.path.join(self.folder, "wrong.chain"))
        with open(os.path.join(self.folder, "wrong.chain"), "a", encoding="utf-8") as file:
            file.write("\n[stage small-pad]\nkind=pad\n")
        self.assertIn("wrong.chain:", self.refused("compare", "bench.sheet", "--with", "wrong.chain"))
        self.refused("compare")


if __name__ == "__main__":
    counted.main()
