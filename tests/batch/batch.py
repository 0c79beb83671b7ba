#!/usr/bin/env python3
"""spurproof-batch from outside: every command, its JSON, its exit codes, and what it says to bad input."""
import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
import unittest
import xml.etree.ElementTree

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path[:0] = [HERE, os.path.join(HERE, "..")]
import bench_files  # noqa: E402
import counted  # noqa: E402
from batch_case import BATCH, Bench  # noqa: E402

PLACE = re.compile(r"([^/\s:]+):(\d+)(?::(\d+))?: ")  # a file that another names comes last
VERDICTS = {"complies", "exceeds", "inconclusive", "not proven", "no limit"}

TOP = {"schema", "program", "mask", "rule", "bench_sha256", "mask_sha256", "chain_sha256", "analyzer_sha256", "warnings", "safe", "radios"}
CONDITION = {"name", "radio", "condition", "verdict", "worst_margin_db", "gaps", "warnings", "fundamental", "emissions"}
FUNDAMENTAL = {"frequency_hz", "level_dbm", "trace_level_dbm", "power_w", "basis", "u_db", "expanded_db", "k", "dof"}
EMISSION = {"order", "frequency_hz", "detected", "level_dbm", "level_dbc", "u_db", "expanded_db", "k", "dof", "dbc_expanded_db",
            "floor_dbm", "floor_cause", "limit_dbm", "limit_rule", "margin_db", "margin_u_db", "margin_expanded_db", "margin_k", "margin_dof",
            "conformity", "origin", "origin_basis", "radio_part_low_dbm", "radio_part_high_dbm", "calibrated", "verdict", "reason_code",
            "reason", "would_prove"}


class Judging(Bench):
    def test_keys_and_words(self):
        data = self.load("judge", "bench.sheet")
        self.assertLessEqual(TOP, data.keys())
        self.assertRegex(data["program"], r"^spurproof \d+\.\d+\.\d+$")
        self.assertRegex(data["bench_sha256"], "^[0-9a-f]{64}$")
        text = self.good("judge", "bench.sheet")
        for key in ("mask_sha256", "chain_sha256", "analyzer_sha256"):
            self.assertRegex(data[key], "^[0-9a-f]{64}$")
            self.assertTrue(all(radio[key] == data[key] for radio in data["radios"]))
            self.assertEqual(text.count(data[key][:12]), 1)  # in the head, and nowhere else
        self.assertEqual([radio["name"] for radio in data["radios"]], ["Plendour", "Quernish/2 m low", "Quernish/2 m high"])
        for radio in data["radios"]:
            self.assertLessEqual(CONDITION, radio.keys())
            self.assertLessEqual(FUNDAMENTAL, radio["fundamental"].keys())
            self.assertIn(radio["verdict"], VERDICTS)
            self.assertEqual([e["order"] for e in radio["emissions"]][:9], list(range(2, 11)))
            for emission in radio["emissions"]:
                self.assertLessEqual(EMISSION, emission.keys())
                self.assertIn(emission["verdict"], VERDICTS)
            margins = [e["margin_db"] for e in radio["emissions"] if e["margin_db"] is not None]
            self.assertEqual(radio["worst_margin_db"], min(margins))

    def test_levels_at_the_socket(self):
        second = self.load("judge", "bench.sheet")["radios"][0]["emissions"][0]
        loss = self.load("chain", "bench.chain", "--at", "292MHz")["at"][0]["loss_db"]
        self.assertTrue(second["detected"])
        self.assertAlmostEqual(second["level_dbm"], -63.0 + loss, delta=0.3)
        self.assertAlmostEqual(second["limit_dbm"], -16.0206, delta=1e-4)
        self.assertAlmostEqual(second["margin_db"], second["limit_dbm"] - second["level_dbm"], delta=1e-9)
        self.assertAlmostEqual(second["margin_expanded_db"], second["margin_k"] * second["margin_u_db"], delta=1e-9)

    def test_what_is_wanted(self):
        radios = self.load("judge", os.path.join(os.environ["SP_SOURCE_ROOT"], "samples", "pocket.sheet"))["radios"]
        for radio in radios:
            open_sweeps = [wanted for wanted in radio["wanted"] if not wanted["done"] and wanted["kind"] != "elsewhere"]
            self.assertEqual(radio["now"]["kind"], open_sweeps[0]["kind"] if open_sweeps else "done", radio["name"])
            self.assertEqual(radio["now"]["may_be_keyed"], bool(open_sweeps) and open_sweeps[0]["kind"] != "unkeyed", radio["name"])
            for wanted in radio["wanted"]:
                self.assertEqual(wanted["done"], wanted["sweeps"] > 0, wanted)
            judged = [sweep for sweep in radio["sweeps"] if sweep["used"] and sweep["purpose"] != "unkeyed"]
            self.assertEqual(sum(wanted["sweeps"] for wanted in radio["wanted"] if wanted["kind"] != "unkeyed"), len(judged), radio["name"])
        waiting = [radio["name"] for radio in radios if radio["now"]["kind"] != "done"]
        self.assertTrue(all(radio["next"] in waiting for radio in radios), waiting)
        quelldrin = next(radio for radio in radios if radio["name"] == "Quelldrin")
        self.assertEqual(quelldrin["now"]["text"], "Once more, with 20 dB more. Then key 38 s.")

    def test_not_seen_and_not_swept(self):
        emissions = self.load("judge", "bench.sheet")["radios"][0]["emissions"]
        third, tenth = emissions[1], emissions[8]
        self.assertEqual((third["detected"], third["level_dbm"], third["origin"], third["conformity"], third["origin_basis"]),
                         (False, third["floor_dbm"], None, None, "none"))
        self.assertFalse(emissions[9 - 2]["detected"])
        self.assertEqual(tenth["order"], 10)
        self.assertEqual(tenth["reason_code"], "below-limit" if tenth["detected"] else tenth["reason_code"])
        self.assertGreaterEqual(1500e6, tenth["frequency_hz"])
        short = self.load("judge", "--radio", "Plendour=plendour-short.csv", *self.parts(), folder=self.cut("plendour.csv", 500e6))
        tenth = short["radios"][0]["emissions"][8]
        for key in ("level_dbm", "floor_dbm", "margin_db", "u_db", "expanded_db", "dbc_expanded_db", "margin_u_db", "margin_expanded_db"):
            self.assertIsNone(tenth[key], key)
        self.assertEqual((tenth["verdict"], tenth["reason_code"]), ("not proven", "not-swept"))
        self.assertIn("not-swept", [gap["why"] for gap in short["radios"][0]["gaps"]])

    def parts(self):
        return "--chain", "bench.chain", "--analyzer", "bench.analyzer", "--mask", "house.mask"

    def cut(self, name, highest):
        """The bench with NAME-short beside NAME, which ends at `highest` Hz."""
        with open(os.path.join(self.folder, name), encoding="utf-8") as file:
            lines = [line for line in file if not line[0].isdigit() or float(line.split(",")[0]) <= highest]
        with open(os.path.join(self.folder, name.replace(".", "-short.")), "w", encoding="utf-8") as file:
            file.writelines(line for line in lines if not line.startswith("Center"))
        return self.folder

    def test_the_same_bits_again(self):
        self.assertEqual(self.good("judge", "bench.sheet", "--json"), self.good("judge", "bench.sheet", "--json"))

    def test_numbers_know_no_locale(self):
        self.assertEqual(self.good("judge", "bench.sheet"), self.good("judge", "bench.sheet", LC_NUMERIC="de_DE.UTF-8", LC_ALL=""))

    def test_options_in_any_order(self):
        self.assertEqual(self.good("judge", "--json", "--rule=simple", "bench.sheet"), self.good("judge", "bench.sheet", "--rule", "simple", "--json"))

    def test_an_option_wins_over_the_sheet(self):
        self.assertEqual(self.load("judge", "bench.sheet")["rule"], "guarded")
        self.assertEqual(self.load("judge", "bench.sheet", "--rule", "simple")["rule"], "simple")
        self.assertEqual(self.load("judge", "bench.sheet", "--mask", "us-amateur")["mask"], "us-amateur")
        shutil.copy(os.path.join(self.folder, "bench.chain"), os.path.join(self.folder, "other.chain"))
        with open(os.path.join(self.folder, "other.chain"), "a", encoding="utf-8") as file:
            file.write("common_u_db=0.1\n")
        self.assertNotEqual(self.load("judge", "bench.sheet", "--chain", "other.chain")["chain_sha256"],
                            self.load("judge", "bench.sheet")["chain_sha256"])

    def test_radios_without_a_sheet(self):
        data = self.load("judge", "--radio", "Plendour=plendour.csv", "--radio", "Quernish=quernish.csv;plendour.csv?attenuation=10", *self.parts())
        self.assertEqual([radio["name"] for radio in data["radios"]], ["Plendour", "Quernish"])
        self.assertAlmostEqual(data["radios"][0]["fundamental"]["frequency_hz"], 146e6, delta=100e3)
        self.assertIn("--chain", self.refused("judge", "--radio", "Plendour=plendour.csv"))
        self.refused("judge", "bench.sheet", "--radio", "Plendour=plendour.csv", *self.parts())

    def test_strict(self):
        data = self.load("judge", "bench.sheet")
        self.assertIn("exceeds", [radio["verdict"] for radio in data["radios"]])
        code, out, err = self.run_batch("judge", "bench.sheet", "--strict", "--json")
        self.assertEqual((code, json.loads(out), err), (2, data, ""))
        clean = self.load("judge", "--radio", "Plendour=plendour.csv", *self.parts())
        code, _, _ = self.run_batch("judge", "--radio", "Plendour=plendour.csv", *self.parts(), "--strict")
        self.assertEqual(code, 0 if clean["radios"][0]["verdict"] == "complies" else 2)

    def test_monte_carlo(self):
        words = ("judge", "bench.sheet", "--monte-carlo", "20000", "--seed", "7")
        data = self.load(*words)
        drawn = data["radios"][0]["emissions"][0]
        self.assertEqual(drawn["monte_carlo"]["draws"], 20000)
        self.assertAlmostEqual(drawn["monte_carlo"]["margin_u_db"], drawn["margin_u_db"], delta=0.05 * drawn["margin_u_db"])
        self.assertEqual(data, self.load(*words))
        self.assertNotIn("monte_carlo", self.load("judge", "bench.sheet")["radios"][0]["emissions"][0])
        self.assertIn("100000000", self.refused("judge", "bench.sheet", "--monte-carlo", "100000001"))
        self.assertIn("--monte-carlo", self.refused("judge", "bench.sheet", "--monte-carlo", "many"))

    def test_a_sweep_not_used_is_shown(self):
        low = self.load("judge", "bench.sheet")["radios"][1]
        self.assertEqual([(s["purpose"], s["step_db"]) for s in low["sweeps"]], [("keyed", None), ("step", 10)])
        if not low["sweeps"][1]["used"]:
            self.assertIn("sweep-not-used", [warning["code"] for warning in low["warnings"]])

    def test_the_table(self):
        out = self.good("judge", "bench.sheet")
        for word in ("Two pads", "House limit", "Plendour", "Quernish/2 m low", "2nd harmonic", "exceeds"):
            self.assertIn(word, out)
        whole = self.load("judge", "bench.sheet")["radios"]
        bounds = [e["level_dbc"] for radio in whole for e in radio["emissions"] if not e["detected"] and e["level_dbc"] and e["decision"] == "floor"]
        self.assertTrue(bounds)
        for dbc in bounds:
            self.assertIn(f"<{dbc:.1f}", out)  # a bound in dBc as in dBm

    def test_unsafe_is_the_first_line(self):
        with open(os.path.join(self.folder, "bench.chain"), encoding="utf-8") as file:
            text = file.read().replace("rating_w=25", "rating_w=1")
        with open(os.path.join(self.folder, "weak.chain"), "w", encoding="utf-8") as file:
            file.write(text)
        first = self.good("judge", "bench.sheet", "--chain", "weak.chain").splitlines()[0]
        self.assertTrue(first.startswith("Unsafe") and "power-pad" in first, first)
        self.assertFalse(self.load("judge", "bench.sheet", "--chain", "weak.chain")["safe"])
        self.assertTrue(self.load("judge", "bench.sheet")["safe"])


class Parts(Bench):
    def test_chain(self):
        data = self.load("chain", "bench.chain", "--at", "50MHz,146MHz")
        self.assertEqual([stage["name"] for stage in data["stages"]], ["power-pad", "small-pad"])
        self.assertEqual([stage["from_label"] for stage in data["stages"]], [False, False])
        first, second = data["at"]
        self.assertAlmostEqual(first["loss_db"], 30.02 + 9.98, delta=1e-9)
        self.assertTrue(first["calibrated"])
        self.assertAlmostEqual(first["loss_db"], sum(s["loss_db"] for s in first["stages"]) + first["interaction_db"], delta=1e-9)
        self.assertTrue(40.0 < second["loss_db"] < 40.12)
        self.assertFalse(self.load("chain", "bench.chain", "--at", "3GHz")["at"][0]["calibrated"])
        self.assertEqual([at["frequency_hz"] for at in self.load("chain", "bench.chain")["at"]], [50e6, 500e6, 1600e6])
        self.assertIn("power-pad", self.good("chain", "bench.chain"))

    def test_masks_known(self):
        names = [mask["name"] for mask in self.load("mask")["masks"]]
        self.assertIn("us-amateur", names)
        for name in names:
            self.assertIn(name, self.good("mask"))

    def test_mask_evaluated(self):
        data = self.load("mask", "house.mask", "--fundamental", "146MHz", "--power", "37dBm")
        at = [p for p in data["points"] if p["from_hz"] <= 292e6 <= p["to_hz"]]
        self.assertAlmostEqual(at[0]["limit_dbm"], -16.0206, delta=1e-9)
        self.assertEqual(at[0]["rule"], "rule 1")
        for before, after in zip(data["points"], data["points"][1:]):
            self.assertEqual(before["to_hz"], after["from_hz"])
        self.assertIsNone([p for p in data["points"] if p["from_hz"] <= 146e6 <= p["to_hz"]][0]["limit_dbm"])
        self.assertIn("--fundamental", self.refused("mask", "house.mask"))
        self.assertIn("us-amateur", self.refused("mask", "no-such-mask", "--fundamental", "146MHz", "--power", "5W"))

    def test_parts_of_a_conditions_own(self):
        """Two masks of one name and one clause, another figure: their hashes tell them apart, beside the condition that has its own."""
        folder = bench_files.write(tempfile.mkdtemp(prefix="spurproof-batch-"))
        self.addCleanup(shutil.rmtree, folder)
        mask = "[mask]\nname=club\nclause=house rule\n[rule 1]\nattenuation_db={}\n"
        for name, figure in (("a.mask", 50), ("b.mask", 55)):
            with open(os.path.join(folder, name), "w", encoding="utf-8") as file:
                file.write(mask.format(figure))
        with open(os.path.join(folder, "bench.sheet"), encoding="utf-8") as file:
            lines = file.read().replace("mask=house.mask", "mask=a.mask").split("\n")
        lines.insert(lines.index("[condition Quernish/2 m low]") + 1, "mask=b.mask")
        with open(os.path.join(folder, "bench.sheet"), "w", encoding="utf-8") as file:
            file.write("\n".join(lines))
        data, text = self.load("judge", "bench.sheet", folder=folder), self.good("judge", "bench.sheet", folder=folder)
        hashes = {radio["name"]: radio["mask_sha256"] for radio in data["radios"]}
        self.assertEqual(data["mask_sha256"], hashes["Plendour"])
        self.assertNotEqual(hashes["Quernish/2 m low"], hashes["Plendour"])
        self.assertIn(f"mask club (house rule, {hashes['Plendour'][:12]}), rule ", text)
        self.assertIn(f"  mask club (house rule, {hashes['Quernish/2 m low'][:12]})\n", text)

    def test_headroom(self):
        data = self.load("headroom", "bench.sheet", "--power", "5W")
        self.assertEqual([node["name"] for node in data["nodes"]], ["power-pad", "small-pad", "analyzer"])
        self.assertTrue(data["safe"])
        self.assertAlmostEqual(data["nodes"][0]["level_dbm"], 36.9897, delta=1e-3)
        self.assertAlmostEqual(data["nodes"][0]["headroom_db"], 6.9897, delta=1e-3)
        self.assertIn({"kind": "left-out", "stages": ["power-pad"], "worst_node": "analyzer"},
                      [{key: fault[key] for key in ("kind", "stages", "worst_node")} for fault in data["faults"]])
        self.assertTrue(all(fault["what"] for fault in data["faults"]))
        self.assertFalse(self.load("headroom", "bench.sheet", "--power", "50W")["safe"])
        self.assertTrue(self.good("headroom", "bench.sheet", "--power", "50W").startswith("! Unsafe"))
        self.assertIn("licence", self.good("headroom", "bench.sheet", "--power", "5W"))

    def test_headroom_before_any_sweep(self):
        words = ("headroom", "--chain", "bench.chain", "--analyzer", "bench.analyzer", "--power", "5W")
        self.assertTrue(self.load(*words, "--fundamental", "146MHz")["safe"])
        self.assertIn("--fundamental", self.refused(*words))
        self.assertIn("--power", self.refused(*words[:5], "--fundamental", "146MHz"))

    def test_read(self):
        data = self.load("read", "plendour.csv", "quernish.csv?attenuation=15")
        first, second = data["traces"]
        self.assertEqual((first["points"], first["first_hz"], first["last_hz"], first["level_unit_read"]), (28001, 100e6, 1500e6, "dBm"))
        self.assertEqual((first["rbw_hz"], first["attenuation_db"], first["detector"], first["skipped_lines"]), (100e3, 10, "peak", 0))
        self.assertEqual(second["attenuation_db"], 15)
        self.assertIn("28001", self.good("read", "plendour.csv"))

    def test_read_csv(self):
        blocks = self.good("read", "plendour.csv", "quernish.csv", "--csv").split("\n\n")
        self.assertEqual(len(blocks), 2)
        lines = blocks[0].splitlines()
        self.assertEqual(lines[0], "frequency_hz,level_dbm")
        with open(os.path.join(self.folder, "plendour.csv"), encoding="utf-8") as file:
            raw = [tuple(map(float, line.split(","))) for line in file if line[0].isdigit()]
        self.assertEqual([tuple(map(float, line.split(","))) for line in lines[1:]], raw)

    def test_draw(self):
        for name, begin in (("chart.png", b"\x89PNG\r\n"), ("chart.svg", b"<?xml"), ("chart.pdf", b"%PDF-")):
            self.assertEqual(self.good("draw", "bench.sheet", "-o", name), "")
            with open(os.path.join(self.folder, name), "rb") as file:
                self.assertTrue(file.read().startswith(begin), name)
        root = xml.etree.ElementTree.parse(os.path.join(self.folder, "chart.svg")).getroot()
        self.assertTrue(root.tag.endswith("svg") and len(list(root.iter())) > 50)

    def test_draw_options(self):
        self.good("draw", "bench.sheet", "-o", "a.png", "--size", "800x500", "--from", "100MHz", "--to", "500MHz", "--radio", "Quernish", "--dark")
        with open(os.path.join(self.folder, "a.png"), "rb") as file:
            head = file.read(24)
        self.assertEqual((int.from_bytes(head[16:20], "big"), int.from_bytes(head[20:24], "big")), (800, 500))
        for words in (("--size", "0x10"), ("--size", "big"), ("--radio", "Nobody"), ("--from", "5GHz", "--to", "1GHz"), ()):
            self.refused("draw", "bench.sheet", "-o", "b.png" if words else "b.gif", *words)
        self.refused("draw", "bench.sheet")
        self.assertEqual([name for name in os.listdir(self.folder) if name.startswith("b.")], [])

    def file(self, name):
        with open(os.path.join(self.folder, name), "rb") as file:
            return file.read()

    def test_superseded_is_drawn_and_never_judged(self):
        with open(os.path.join(self.folder, "bench.sheet"), encoding="utf-8") as file:
            sheet = file.read()
        with open(os.path.join(self.folder, "retaken.sheet"), "w", encoding="utf-8") as file:
            file.write(sheet + "superseded=quernish.csv\n")  # of the last: Quernish/2 m high
        before, after = self.load("judge", "bench.sheet"), self.load("judge", "retaken.sheet")
        self.assertEqual([one["verdict"] for one in after["radios"]], [one["verdict"] for one in before["radios"]])
        for one, other in zip(before["radios"], after["radios"]):
            for found in one, other:
                found.pop("sweeps", None)
            self.assertEqual(one, other)
        for sheet in "bench", "retaken":
            for words in ((), ("--judged-only",)):
                self.good("draw", sheet + ".sheet", "-o", sheet + "-".join(words) + ".png", "--radio", "Quernish/2 m high", *words)
        self.assertEqual(self.file("bench.png"), self.file("bench--judged-only.png"))
        self.assertNotEqual(self.file("retaken.png"), self.file("retaken--judged-only.png"))
        self.refused("draw", "bench.sheet", "-o", "c.png", "--judged-only=no")

    def test_scales_of_the_chart(self):
        ways = [(), ("--log",), ("--dbc",), ("--level-from", "-90", "--level-to", "10"), ("--dbc", "--level-from", "-90", "--level-to", "10")]
        for i, words in enumerate(ways):
            self.good("draw", "bench.sheet", "-o", f"scale-{i}.png", "--size", "800x500", *words)
        self.assertEqual(len({self.file(f"scale-{i}.png") for i in range(len(ways))}), len(ways))
        for words in (("--level-from", "10", "--level-to", "-90"), ("--level-from", "low"), ("--level-to", "1e99"), ("--log=yes",)):
            self.refused("draw", "bench.sheet", "-o", "c.png", *words)



class Books(Bench):
    """A bench book in place of a sheet; pack and unpack."""

    def setUp(self):
        self.own = tempfile.mkdtemp(prefix="spurproof-book-")
        self.book = os.path.join(self.own, "b.benchbook")
        self.good("pack", "bench.sheet", "-o", self.book)

    def tearDown(self):
        shutil.rmtree(self.own)

    def findings(self, *words):
        """All that was judged; file names and what is said of them left out."""
        data = self.load("judge", *words)
        data.pop("warnings")
        for radio in data["radios"]:
            for key in [key for key in radio if key not in CONDITION] + ["warnings"]:
                radio.pop(key)
        return data

    def test_judges_as_its_sheet(self):
        self.assertEqual(self.findings(self.book), self.findings("bench.sheet"))
        self.assertEqual(self.findings(self.book, "--rule", "simple"), self.findings("bench.sheet", "--rule", "simple"))

    def test_a_book_by_another_name(self):
        other = os.path.join(self.own, "evening.dat")
        shutil.copy(self.book, other)
        self.assertEqual(self.findings(other), self.findings("bench.sheet"))

    def test_there_and_back(self):
        out = os.path.join(self.own, "out")
        self.good("unpack", self.book, "-d", out)
        self.assertEqual(sorted(os.listdir(out)), ["bench.sheet", "raw"])
        self.assertEqual(self.findings(os.path.join(out, "bench.sheet")), self.findings("bench.sheet"))
        want = {open(os.path.join(self.folder, name), "rb").read() for name in os.listdir(self.folder) if name.endswith(".csv")}
        got = {open(os.path.join(out, "raw", name), "rb").read() for name in os.listdir(os.path.join(out, "raw")) if name.endswith(".csv")}
        self.assertTrue(got and got <= want, "a sweep's bytes came back changed")
        again, book = os.path.join(self.own, "again"), os.path.join(self.own, "c.benchbook")
        self.good("pack", os.path.join(out, "bench.sheet"), "-o", book)
        self.good("unpack", book, "-d", again)
        for folder, _, names in os.walk(out):
            for name in names:
                one = os.path.join(folder, name)
                with open(one, "rb") as a, open(os.path.join(again, os.path.relpath(one, out)), "rb") as b:
                    self.assertEqual(a.read(), b.read(), name)

    def test_no_result_over_what_is_read(self):
        """Neither a book nor a file that the command reads gives way to its result, by whatever name."""
        folder = bench_files.write(tempfile.mkdtemp(dir=self.own))
        shutil.copy(self.book, os.path.join(folder, "b.benchbook"))
        os.symlink("plendour.csv", os.path.join(folder, "s.svg"))
        before = {name: open(os.path.join(folder, name), "rb").read() for name in os.listdir(folder)}
        for words in (("judge", "b.benchbook", "-o", "b.benchbook"), ("judge", "bench.sheet", "-o", "b.benchbook"),
                      ("judge", "bench.sheet", "-o", "bench.sheet"), ("judge", "bench.sheet", "--json", "-o", "quernish.csv"),
                      ("chain", "bench.chain", "-o", "./bench.chain"), ("read", "plendour.csv", "--csv", "-o", "plendour.csv"),
                      ("draw", "bench.sheet", "-o", "s.svg")):
            self.assertIn("give -o another name", self.refused(*words, folder=folder))
        self.assertEqual({name: open(os.path.join(folder, name), "rb").read() for name in os.listdir(folder)}, before)
        for _ in range(2):
            self.good("judge", "bench.sheet", "-o", "table.txt", folder=folder)  # an earlier result does

    def test_headroom_and_chart_of_a_book(self):
        self.load("headroom", self.book, "--power", "5W")
        self.good("draw", self.book, "-o", os.path.join(self.own, "chart.svg"))

    def test_refused(self):
        text = os.path.join(self.own, "text.benchbook")
        with open(text, "w", encoding="utf-8") as file:
            file.write("[bench]\n")
        self.assertIn("not a bench book", self.refused("judge", text))
        self.assertIn("not a bench book", self.refused("unpack", text, "-d", os.path.join(self.own, "x")))
        self.assertIn("not a bench book", self.refused("pack", "bench.sheet", "-o", text))
        self.assertIn("already", self.refused("pack", self.book, "-o", os.path.join(self.own, "x.benchbook")))
        self.assertIn("not empty", self.refused("unpack", self.book, "-d", self.own))
        self.assertIn("-o BOOK", self.refused("pack", "bench.sheet"))
        self.assertIn("-d DIR", self.refused("unpack", self.book))
        self.assertEqual(sorted(os.listdir(self.own)), ["b.benchbook", "text.benchbook"])


class Calls(Bench):
    def test_usage(self):
        self.assertIn("judge", self.refused())
        self.assertIn("judge", self.refused("jugde"))
        self.assertIn("--json", self.refused("judge", "bench.sheet", "--jsno"))
        self.assertIn("twice", self.refused("judge", "bench.sheet", "--rule", "guarded", "--rule", "simple"))
        self.assertIn("guarded", self.refused("judge", "bench.sheet", "--rule", "kind"))
        self.assertIn("--rule", self.refused("judge", "bench.sheet", "--rule"))
        self.refused("judge", "bench.sheet", "--json=yes")
        self.refused("judge")
        self.refused("judge", "bench.sheet", "bench.sheet")
        self.refused("read")
        self.assertIn("--at", self.refused("chain", "bench.chain", "--at", "146MHz,x"))
        self.refused("judge", "missing.sheet")
        self.refused("judge", ".")

    def test_help(self):
        for words in (("--help",), ("judge", "--help"), ("draw", "--help")):
            self.assertIn("usage", self.good(*words))
        self.assertRegex(self.good("--version"), r"^spurproof-batch \d")

    def test_output_file(self):
        self.good("judge", "bench.sheet", "--json", "-o", "out.json")
        with open(os.path.join(self.folder, "out.json"), encoding="utf-8") as file:
            self.assertEqual(file.read(), self.good("judge", "bench.sheet", "--json", "-o", "-"))
        self.refused("judge", "bench.sheet", "-o", "no/such/folder/out.json")
        self.assertEqual([name for name in os.listdir(self.folder) if name.startswith("out.json") and name != "out.json"], [])

    def test_output_through_a_link_and_to_a_device(self):
        with open(os.path.join(self.folder, "behind.json"), "w", encoding="utf-8"):
            os.symlink("behind.json", os.path.join(self.folder, "link.json"))
        self.good("mask", "--json", "-o", "link.json")
        self.assertTrue(os.path.islink(os.path.join(self.folder, "link.json")))
        with open(os.path.join(self.folder, "behind.json"), encoding="utf-8") as file:
            self.assertEqual(json.load(file)["schema"], 1)
        pipe = os.path.join(self.folder, "pipe")
        os.mkfifo(pipe)
        reader = subprocess.Popen(["cat", pipe], stdout=subprocess.PIPE)
        self.good("mask", "--json", "-o", "pipe")
        self.assertEqual(json.loads(reader.communicate(timeout=600)[0])["schema"], 1)
        self.assertTrue(os.path.exists(pipe) and not os.path.isfile(pipe))

    def test_output_into_a_circle_of_links(self):
        for ending, words in ("json", ("judge", "bench.sheet", "--json")), ("png", ("draw", "bench.sheet")), ("xlsx", ("report", "bench.sheet")), \
                ("benchbook", ("pack", "bench.sheet")):
            name = os.path.join(self.folder, "circle." + ending)
            os.symlink("circle." + ending, name)
            self.assertIn("Too many levels of symbolic links", self.refused(*words, "-o", "circle." + ending))
            self.assertEqual(os.readlink(name), "circle." + ending)

    def test_nothing_is_written_on_error(self):
        path = os.path.join(self.folder, "kept.json")
        with open(path, "w", encoding="utf-8") as file:
            file.write("before")
        self.refused("judge", "missing.sheet", "--json", "-o", "kept.json")
        with open(path, encoding="utf-8") as file:
            self.assertEqual(file.read(), "before")

    @unittest.skipUnless(os.path.exists("/dev/full"), "no /dev/full")
    def test_a_full_disk_is_an_error(self):
        for words in ("mask",), ("--help",), ("--version",), ("judge", "--help"):
            with open("/dev/full", "wb") as full:
                run = subprocess.run([BATCH, *words], stdout=full, stderr=subprocess.PIPE, cwd=self.folder, env=dict(os.environ, LC_ALL="C.UTF-8"))
            self.assertEqual((run.returncode, run.stderr), (1, b"spurproof-batch: standard output: No space left on device\n"), words)


if __name__ == "__main__":
    counted.main()
