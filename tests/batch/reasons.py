#!/usr/bin/env python3
"""Codes and named numbers beside the sentences of JSON: the fields that core/docs/reasons.md lists, in the units of their names, true of their rows."""
import os
import re
import sys
import unittest

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path[:0] = [HERE, os.path.join(HERE, "..")]
import counted  # noqa: E402
from batch import Bench as Base  # noqa: E402

ROOT = os.environ.get("SP_SOURCE_ROOT") or os.path.dirname(os.path.dirname(HERE))
TEXTS = {"_dbm": "{:.1f} dBm", "_db": "{:.1f} dB"}


def listed():
    """code -> the fields of the docs."""
    with open(os.path.join(ROOT, "core", "docs", "reasons.md"), encoding="utf-8") as file:
        rows = re.findall(r"^`([\w-]+)`(?:: (.*))?$", file.read(), re.M)
    return {code: re.findall(r"`(\w+)`", fields) for code, fields in rows}


def reasons(data):
    """(code, sentence, values) of every object that holds them, in all of a JSON file."""
    if isinstance(data, dict):
        if "code" in data:
            yield data["code"], data["text"], data["values"]
        for key in data:
            if key.endswith("_values"):
                yield data[key[:-7] + "_code"], data[key[:-7]], data[key]
    for inner in data.values() if isinstance(data, dict) else data if isinstance(data, list) else ():
        yield from reasons(inner)


class Samples(Base):
    @classmethod
    def setUpClass(cls):
        cls.folder = os.path.join(ROOT, "samples")
        cls.club, cls.pocket = (cls().load("judge", sheet) for sheet in ("club.sheet", "pocket.sheet"))
        cls.emissions = [e for data in (cls.club, cls.pocket) for radio in data["radios"] for e in radio["emissions"]]

    @classmethod
    def tearDownClass(cls):
        pass

    def runTest(self):
        pass

    def of(self, code):
        found = [e for e in self.emissions if e["reason_code"] == code]
        self.assertTrue(found, code)
        return found

    def test_fields_are_the_docs(self):
        table, met = listed(), set()
        for data in (self.club, self.pocket, self.load("range", "club.sheet", "--power", "5W", "--fundamental", "146.46MHz"), self.load("headroom", "club.sheet", "--power", "5W", "--fundamental", "146.46MHz")):
            for code, sentence, values in reasons(data):
                self.assertEqual((code is None, sentence is None), (values is None, values is None))
                if code:
                    self.assertEqual(list(values), table[code], code)
                    met.add(code)
        self.assertGreater(len(met), 25)

    def test_levels_are_said(self):
        said = 0
        for code, sentence, values in reasons([self.club, self.pocket]):
            for key, value in (values or {}).items():
                form = "{:.0f} dB of attenuation" if key == "attenuation_db" else TEXTS.get("_" + key.split("_")[-1])
                if code in ("below-limit", "floor-below-limit", "floor-above-limit", "overload", "ambient-possible") and form and value is not None:
                    self.assertIn(form.format(value), sentence, (code, key))
                    said += 1
        self.assertGreater(said, 100)

    def test_why(self):
        for e in self.of("below-limit"):
            self.assertEqual(e["reason_values"]["margin_db"], e["margin_db"])
        for e in self.of("floor-above-limit"):
            v = e["reason_values"]
            self.assertEqual((v["floor_dbm"], v["limit_dbm"]), (e["floor_dbm"], e["limit_dbm"]))
            self.assertIn(v["cause"], ("noise", "phase noise", "skirt", "distortion"))
            self.assertAlmostEqual(v["missing_db"], v["floor_dbm"] + v["expanded_db"] - v["limit_dbm"], 9)
        for e in self.of("undersampled"):
            self.assertIs(e["reason_values"]["seen"], e["detected"])

    def test_what_would_prove_it(self):
        codes = {e["would_prove_code"] for e in self.emissions}
        self.assertLessEqual({None, "prove-setting", "prove-notch", "prove-step", "prove-uncertainty", "prove-ambient"}, codes)
        for e in self.emissions:
            v = e["would_prove_values"]
            if e["would_prove_code"] == "prove-uncertainty":
                self.assertAlmostEqual(v["below_db"], abs(e["margin_db"]), 12)
            elif e["would_prove_code"] == "prove-step":
                self.assertEqual((type(v["order"]), v["order"], v["pad"]), (int, e["order"], False))
            elif e["would_prove_code"] == "prove-setting":
                self.assertLess(v["floor_dbm"], e["limit_dbm"])

    def test_what_would_close_a_gap(self):
        gaps = [gap for data in (self.club, self.pocket) for radio in data["radios"] for gap in radio["gaps"]]
        spans = [gap for gap in gaps if gap["would_close_code"] == "prove-span"]
        self.assertTrue(spans)
        for gap in spans:
            v = gap["would_close_values"]
            self.assertLess(v["from_hz"], v["to_hz"])
            self.assertIn(f"{v['points']} points", gap["would_close"])


class Scripted(Base):
    def test_the_numbers_do_what_they_say(self):
        """A setting that would prove a harmonic, taken from the values as options, proves it with the floor that was told."""
        call, followed = ("range", "bench.sheet", "--power", "5W", "--fundamental", "146MHz"), 0
        for h in self.load(*call, "--attenuation", "70")["harmonics"]:
            v = h["would_prove_values"]
            if h["would_prove_code"] != "prove-setting" or any(v[key] is not None for key in ("points", "parts", "averages", "average", "pad_db")):
                continue
            turned = [word for key, option in (("attenuation_db", "--attenuation"), ("rbw_hz", "--rbw"), ("detector", "--detector"))
                      if v[key] is not None for word in (option, str(v[key]))]
            self.assertTrue(turned)
            words = turned if "--attenuation" in turned else ["--attenuation", "70", *turned]
            now = self.load(*call, *words)["harmonics"][h["order"] - 2]
            self.assertIsNone(now["would_prove_code"])
            self.assertIsNone(now["would_prove_values"])
            self.assertAlmostEqual(now["floor_dbm"], v["floor_dbm"], 9)
            followed += 1
        self.assertGreater(followed, 0)

    def test_a_mask_that_sets_no_number_warns(self):
        (warning,) = self.load("mask", "us-amateur", "--fundamental", "446MHz", "--power", "5W")["warnings"]
        self.assertEqual(warning["code"], "mask-not-for-this")
        self.assertEqual(warning["values"], {"mask": "us-amateur", "fundamental_hz": 446e6, "power_w": 5})
        self.assertEqual(self.load("mask", "us-amateur", "--fundamental", "14.2MHz", "--power", "5W")["warnings"], [])


del Base

if __name__ == "__main__":
    counted.main()
