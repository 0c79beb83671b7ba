#!/usr/bin/env python3
"""spurproof-batch range from outside: the floor by the profile, worked out here again by hand, and settings as the command line says."""
import math
import os
import sys

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path[:0] = [HERE, os.path.join(HERE, "..")]
import bench_files  # noqa: E402
import counted  # noqa: E402
from batch import Bench as Base  # noqa: E402

HARMONIC = {"order", "frequency_hz", "limit_dbm", "floor_dbm", "floor_cause", "missing_db", "would_prove"}
SWEEP = {"start_hz", "stop_hz", "points", "rbw_hz", "attenuation_db", "detector", "average", "averages"}
CALL = ("range", "bench.sheet", "--power", "5W", "--fundamental", "146MHz")
P = 10 * math.log10(5000)


def between(f, points):
    """A straight line over log f."""
    for (a, x), (b, y) in zip(points, points[1:]):
        if a <= f <= b:
            return x + (y - x) * math.log(f / a) / math.log(b / a)
    raise ValueError(f)


def loss(f):
    warm = between(146e6, [(50e6, 30.02), (500e6, 30.10)]) * 0.0005 * 5  # the first pad, by its power coefficient; the second gets milliwatts
    return warm + between(f, [(50e6, 30.02), (500e6, 30.10), (1600e6, 30.31)]) + between(f, [(50e6, 9.98), (500e6, 10.02), (1600e6, 10.11)])


def noise(f, rbw, attenuation):
    """At the socket, without phase noise."""
    nbw = rbw * math.sqrt(math.pi / (4 * math.log(2)))
    return between(f, [(10e6, -150), (3e9, -145)]) + 10 * math.log10(nbw) + attenuation + loss(f)


class Range(Base):
    def test_shape(self):
        data = self.load(*CALL)
        self.assertEqual(data["schema"], 1)
        self.assertEqual([h["order"] for h in data["harmonics"]], list(range(2, 11)))
        for h in data["harmonics"]:
            self.assertLessEqual(HARMONIC, h.keys())
            self.assertAlmostEqual(h["frequency_hz"], h["order"] * 146e6)
            self.assertIn(h["floor_cause"], ("noise", "phase noise", "skirt", "distortion"))
        self.assertLessEqual(SWEEP, data["settings"].keys())
        self.assertIsNotNone(data["deepest_sweep"])

    def test_settings_of_the_first_keyed_sweep(self):
        settings = self.load(*CALL)["settings"]
        self.assertEqual((settings["rbw_hz"], settings["attenuation_db"], settings["points"], settings["detector"]), (100e3, 10, 28001, "peak"))

    def test_settings_as_given(self):
        settings = self.load(*CALL, "--rbw", "10kHz", "--attenuation", "20")["settings"]
        self.assertEqual((settings["rbw_hz"], settings["attenuation_db"]), (10e3, 20))

    def test_floor_by_hand(self):
        for rbw, attenuation in ((100e3, 10), (100e3, 30)):
            data = self.load(*CALL, "--rbw", str(rbw), "--attenuation", str(attenuation))
            mixer = P - loss(146e6) - attenuation
            self.assertAlmostEqual(data["mixer_dbm"], mixer, delta=0.001)
            for h in data["harmonics"]:
                f, n = h["frequency_hz"], h["order"]
                phase = P - loss(146e6) + loss(f) - 130 + 10 * math.log10(rbw * 1.0645)  # the table's end held
                both = 10 * math.log10(10 ** (noise(f, rbw, attenuation) / 10) + 10 ** (phase / 10))
                self.assertAlmostEqual(h["noise_dbm"], both, delta=0.03)
                points = 1 + 2 * math.floor((rbw + n * 2e-5 * 146e6) / 50e3 + 1e-9)
                threshold = 10 * math.log10(-math.log(1 - 0.99 ** (1 / points)))  # one look a point: exponential
                self.assertAlmostEqual(h["threshold_dbm"] - h["noise_dbm"], threshold, delta=1e-6)
                self.assertGreater(h["detection_dbm"], h["threshold_dbm"])
                self.assertAlmostEqual(h["limit_dbm"], -16.0206, delta=1e-4)
                self.assertAlmostEqual(h["missing_db"], h["floor_dbm"] + h["margin_expanded_db"] - h["limit_dbm"], delta=1e-9)
                if n == 2:
                    self.assertAlmostEqual(h["distortion_dbm"], 2 * mixer - 60 + attenuation + loss(f), delta=0.05)
                if n > 3:
                    self.assertIsNone(h["distortion_dbm"])
                powers = 10 ** (h["detection_dbm"] / 10) + 10 ** ((h["distortion_high_dbm"] or -math.inf) / 10)
                self.assertAlmostEqual(h["floor_dbm"], 10 * math.log10(powers), delta=1e-6)

    def test_attenuation_and_rbw_move_the_floor(self):
        at = {(b, a): self.load(*CALL, "--rbw", b, "--attenuation", a)["harmonics"][8] for b in ("30kHz", "300kHz") for a in ("20", "30")}
        self.assertGreater(at["30kHz", "30"]["floor_dbm"], at["30kHz", "20"]["floor_dbm"] + 5)
        self.assertLess(at["30kHz", "20"]["noise_dbm"], at["300kHz", "20"]["noise_dbm"] - 9.9)

    def test_what_would_prove_it(self):
        for h in self.load(*CALL, "--attenuation", "70")["harmonics"]:
            self.assertGreater(h["missing_db"], 0)
            self.assertIn(h["would_prove_code"], ("prove-setting", "prove-notch"))
            self.assertTrue(h["would_prove"].startswith("Sweep "))
        for h in self.load(*CALL, "--attenuation", "20")["harmonics"]:
            self.assertLess(h["missing_db"], 0)
            self.assertIsNone(h["would_prove"])

    def test_the_advised_sweep(self):
        data = self.load(*CALL)
        sweep = data["sweep"]
        self.assertLess(sweep["start_hz"], 146e6)
        self.assertGreater(sweep["stop_hz"], 1460e6)
        self.assertLessEqual(P - loss(146e6) - sweep["attenuation_db"], -30 + 0.02)  # the mixer's recommended level
        self.assertEqual(sweep, data["deepest_sweep"])
        again = self.load(*CALL, "--rbw", str(sweep["rbw_hz"]), "--attenuation", str(sweep["attenuation_db"]))
        self.assertIsNone(again["unsafe"])

    def test_key_down_by_hand(self):
        """2.5 span / RBW^2 for each average, in parts no longer than the radio may be keyed; with the profile's own time that."""
        data = self.load(*CALL)
        sweep = data["sweep"]
        whole = 2.5 * (sweep["stop_hz"] - sweep["start_hz"]) * sweep["averages"] / sweep["rbw_hz"] ** 2
        self.assertAlmostEqual(sweep["key_down_s"], whole, delta=1e-9 * whole)
        self.assertAlmostEqual(sweep["key_down_each_s"] * sweep["parts"], whole, delta=1e-9 * whole)
        self.assertEqual((sweep["time_basis"], sweep["longest_key_down_s"], sweep["longest_key_down_assumed"]), ("common practice", 60, True))
        self.assertEqual(data["unprovable"], [])
        self.assertIn("key down", data["advice"])
        short = whole / 2.5
        divided = self.load(*CALL, "--longest-key-down", f"{short:.6f}")["sweep"]
        self.assertLessEqual(divided["key_down_each_s"], short * 1.00001)
        self.assertFalse(divided["longest_key_down_assumed"])
        self.assertIn("--longest-key-down", self.refused(*CALL, "--longest-key-down", "0"))

    def test_the_profiles_own_time(self):
        with open(os.path.join(self.folder, "bench.analyzer"), encoding="utf-8") as file:
            text = file.read()
        with open(os.path.join(self.folder, "timed.analyzer"), "w", encoding="utf-8") as file:
            file.write(text.rstrip("\n") + "\nsweep_s=1kHz 1GHz 100\n")
        sweep = self.load(*CALL, "--analyzer", "timed.analyzer")["sweep"]
        self.assertEqual(sweep["time_basis"], "profile")
        pace = 100e-9 * (1 if sweep["rbw_hz"] >= 1e3 else (1e3 / sweep["rbw_hz"]) ** 2)  # above the widest RBW that is stated it is held
        self.assertAlmostEqual(sweep["key_down_s"], pace * (sweep["stop_hz"] - sweep["start_hz"]) * sweep["averages"], delta=1e-6)

    def test_what_is_not_calibrated_is_set_apart(self):
        """A chain to 1.3 GHz: the 9th and 10th of 146 MHz cannot be proven by any sweep; the sweep for the rest is that of a mask of 8."""
        with open(os.path.join(self.folder, "bench.chain"), encoding="utf-8") as file:
            text = file.read()
        self.assertIn("1600MHz", text)
        with open(os.path.join(self.folder, "short.chain"), "w", encoding="utf-8") as file:
            file.write(text.replace("1600MHz", "1300MHz"))
        data = self.load(*CALL, "--chain", "short.chain")
        self.assertEqual([(u["order"], u["why"]) for u in data["unprovable"]], [(9, "outside-calibration"), (10, "outside-calibration")])
        self.assertIsNotNone(data["sweep"])
        with open(os.path.join(self.folder, "house.mask"), encoding="utf-8") as file:
            mask = file.read()
        with open(os.path.join(self.folder, "eight.mask"), "w", encoding="utf-8") as file:
            file.write(mask.replace("[mask]\n", "[mask]\nharmonics=8\n", 1) if "harmonics=" not in mask else mask.replace("harmonics=10", "harmonics=8"))
        eight = self.load(*CALL, "--chain", "short.chain", "--mask", "eight.mask")
        self.assertEqual(eight["unprovable"], [])
        self.assertEqual(data["sweep"], eight["sweep"])
        self.assertIn("not calibrated for: 9th harmonic, 10th harmonic", data["advice"])

    def test_before_any_sweep(self):
        parts = ("range", "--chain", "bench.chain", "--analyzer", "bench.analyzer", "--mask", "house.mask", "--power", "37dBm")
        data = self.load(*parts, "--fundamental", "146MHz")
        self.assertEqual({k: data["settings"][k] for k in SWEEP}, {k: data["deepest_sweep"][k] for k in SWEEP})
        self.assertIn("--fundamental", self.refused(*parts))

    def test_unsafe(self):
        self.assertEqual(self.load(*CALL, "--attenuation", "0")["unsafe"], "mixer")
        hot = self.load("range", "bench.sheet", "--power", "50W", "--fundamental", "146MHz")
        self.assertEqual((hot["unsafe"], hot["sweep"], hot["deepest_sweep"]), ("stage", None, None))
        self.assertTrue(self.good("range", "bench.sheet", "--power", "50W", "--fundamental", "146MHz").startswith("! Unsafe"))

    def test_an_assumed_best_level_is_said(self):
        """Without a recommended level the profile's noise and intercepts set it; without those it is assumed, and said."""
        self.assertFalse(self.load(*CALL)["best_mixer_assumed"])
        with open(os.path.join(self.folder, "blank.analyzer"), "w", encoding="utf-8") as file:
            file.write("[analyzer]\nname=Blank\n")
        blank = self.load(*CALL, "--analyzer", "blank.analyzer")
        self.assertEqual((blank["best_mixer_dbm"], blank["best_mixer_assumed"]), (-10, True))
        self.assertIn("best -10.0 dBm (assumed", self.good(*CALL, "--analyzer", "blank.analyzer"))
        self.assertNotIn("assumed: nobody states the analyzer's", self.good(*CALL))

    def test_table(self):
        text = self.good(*CALL)
        self.assertIn("1.46 GHz", text)
        self.assertIn("what would prove it", text)
        self.assertIn("licence", text)

    def test_refused(self):
        self.assertIn("--power", self.refused("range", "bench.sheet", "--fundamental", "146MHz"))
        self.assertIn("--rbw", self.refused(*CALL, "--rbw", "0"))
        self.assertIn("--attenuation", self.refused(*CALL, "--attenuation", "-5"))
        self.assertIn("nobody", self.refused(*CALL, "--radio", "nobody"))


del Base

if __name__ == "__main__":
    counted.main()
