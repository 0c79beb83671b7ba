"""Points 11 and 12: the budget by draws, repeats that wander, and no two figures of one answer against each other."""
import math
import os
import re
import sys

import numpy as np

from bench import Chain, Radio, Sweep, harmonic
from cases import LIMIT, Case, case, codes, mask, number, seen, told
from steps import scan

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
import stated  # noqa: E402

OVERALL = Case("12 no contradiction anywhere", "every judging of every case here",
               "deciding_margin_db is there; complies only where it is at least U, exceeds only where it is below 0; a condition's is its deciding emission's",
                      None)


def contradictions(judged):
    """What of these findings speaks against itself, in words; at most a few of each kind."""
    found = []
    for data in judged:
        guarded = data.get("rule", "guarded") == "guarded"
        for c in data["radios"]:
            if "deciding_margin_db" not in c:
                return ["no deciding_margin_db"]
            if any("deciding_margin_db" not in e for e in c["emissions"]):
                return ["emissions have no deciding_margin_db"]
            found += stated.belied(c)
            room = c["deciding_margin_db"]
            if c["verdict"] == "complies" and (room is None or room < 0):
                found.append("a condition complies beside a room below 0")
            if c["verdict"] == "exceeds" and room is not None and room >= 0:
                found.append("a condition exceeds beside a positive room")
            for e in c["emissions"]:
                mine, u = e.get("deciding_margin_db"), e["margin_expanded_db"]
                if e["verdict"] == "complies" and (mine is None or mine < ((u or 0) if guarded else 0) - 1e-6):
                    found.append(f"an emission complies beside a room {'of null' if mine is None else 'below U'}")
                if e["verdict"] == "exceeds" and (mine is None or mine >= 0):
                    found.append("an emission exceeds beside a room not below 0")
            same = [e["deciding_margin_db"] for e in c["emissions"] if e["verdict"] == c["verdict"] and e.get("deciding_margin_db") is not None]
            if c["verdict"] in ("exceeds", "inconclusive", "complies") and same and room is not None and abs(room - min(same)) > 1e-6:
                found.append("a condition's room is not that of the emission which decides")
    return found


@case("11 a phase for each pair of reflections", "radio's |G| 1 at the harmonic, first stage (0.2 dB) VSWR 2, second (10 dB) 1.5, third "
      "(30 dB) 1.5; `budget --monte-carlo 400000`",
      "its 95.45 % interval of the level within 0.1 dB of draws with a phase for each pair")
def phases(w):
    text = "[chain]\nname=Three\nstages=tail;small;great\ncalibrated=2026-09-12\ntemperature_c=22\n"
    for name, db, vswr in (("tail", 0.2, 2.0), ("small", 10.0, 1.5), ("great", 30.0, 1.5)):
        text += (f"[stage {name}]\nkind=pad\nlabel_db={db}\nrating_w=50\nvswr={vswr}\npoints=1MHz {db} 0.03; 3GHz {db} "
              f"0.03\nconnector_u_db=0.02\npower_coefficient=0\n"
                 "temperature_coefficient=0\n")
    folder = w.folder(chain=Chain([(9e3, 40.2), (6e9, 40.2)], stages=text), radio_vswr="1", radio_harmonic_vswr="inf")
    folder.radio(Radio(146e6, 37.0, {2: -25.0}), [Sweep(140e6, 300e6, 30e3, 15e3)])
    folder.files()
    budget = folder.load("budget", "bench.sheet", "--radio", "Radio01", "--order", "2", "--monte-carlo", "400000", "--seed", str(w.seed))
    got = budget["monte_carlo"]["level"]
    n = 400000
    total = np.zeros(n)
    for term in budget["terms"]:
        if term["term"] == "mismatch-radio" or not term["u_db"]:
            continue
        draws = {"rectangular": lambda: w.rng.uniform(-1, 1, n) * math.sqrt(3), "U-shaped": lambda: np.sin(2 * np.pi * w.rng.random(n)) * math.sqrt(2)}
        total += term["u_db"] * draws.get(term["distribution"], lambda: w.rng.standard_normal(n))()
    other = total.copy()  # the reflections added up before the logarithm, or each pair's dB: they differ in second order only
    inside = np.ones(n, complex)
    gamma = [(v - 1) / (v + 1) for v in (2.0, 1.5, 1.5, 1.1)]
    for g, before in zip(gamma, (0.0, 0.2, 10.2, 40.2)):
        m = g * 10 ** (-2 * before / 20)
        wave = m * np.exp(2j * np.pi * w.rng.random(n))
        total += 20 * np.log10(np.abs(1 + wave))
        inside += wave
    other += 20 * np.log10(np.abs(inside))
    ends = [np.percentile(t, [2.275, 97.725]) - np.mean(t) + got["mean_db"] for t in (total, other)]
    w.say(f"program [{got['low_db']:.2f}, {got['high_db']:.2f}], a phase for each pair [{ends[0][0]:.2f}, {ends[0][1]:.2f}] or [{ends[1][0]:.2f}, "
          f"{ends[1][1]:.2f}]")
    w.must(any(abs(got["low_db"] - low) < 0.1 and abs(got["high_db"] - high) < 0.1 for low, high in ends), "more than 0.1 dB apart")


def run_file(rng, sigma, drift, frequencies=50, step=0.01):
    """A substitution run: readings shown in steps of `step` dB, normal about the truth with `sigma`, the inserted ones going up by `drift` dB."""
    lines = ["[run]", "stage=pad", "date=2026-09-12", "temperature_c=22", "source_vswr=1.1", "meter_vswr=1.1", "stage_vswr=1.1", "meter_linearity_db=0.02",
             f"meter_resolution_db={step / 2}", "meter_floor_dbm=-60"]

    def shown(level):
        return f"{round((level + rng.normal(0, sigma)) / step) * step:.2f}"
    for i in range(frequencies):
        base, loss = rng.uniform(-0.05, 0.05), 10 + rng.uniform(-0.05, 0.05)
        lines += [f"[at {50 + 7 * i}MHz]", "before=" + "; ".join(f"{shown(base)}@{t}" for t in (0, 1)),
                  "inserted=" + "; ".join(f"{shown(base - loss + drift * k / 4)}@{3 + k}" for k in range(5)),
                        "after=" + "; ".join(f"{shown(base)}@{t}" for t in (9, 10))]
    return "\n".join(lines) + "\n"


def wandering(w, sigma, drift):
    """How many of 150 runs are said to wander."""
    alarms = 0
    for _ in range(3):
        folder = w.folder()
        folder.write("pad.run", run_file(w.rng, sigma, drift))
        alarms += sum(x["code"] == "repeats-wander" for x in folder.load("calibrate", "pad.run")["warnings"])
    return alarms


@case("11 repeats that stand still", "450 runs of five inserted readings shown in hundredths of a dB, steady, with a scatter of 0.003, 0.005 "
      "and 0.006 dB", "at most 6 of 450 said to wander")
def steady(w):
    alarms = [wandering(w, sigma, 0.0) for sigma in (0.003, 0.005, 0.006)]
    w.say(f"{alarms} of 150 each said to wander")
    w.must(sum(alarms) <= 6, f"{sum(alarms)} of 450")


@case("11 repeats that wander", "150 runs as above, warming up by 0.06 dB over the readings, scatter 0.004 dB",
      "at least 140 of 150 said to wander")
def warming(w):
    alarms = wandering(w, 0.004, 0.06)
    w.say(f"{alarms} of 150 said to wander")
    w.must(alarms >= 140, f"{alarms} of 150")


@case("12 the table's figure beside a verdict", "2nd harmonic by cancellation read under the limit while steps of 5 and 10 dB show the radio's "
      "part over it (and the other way round), 36 phases",
      "no row and no condition line of the table says exceeds beside a positive figure or complies beside none that is positive")
def table(w):
    wrong = []
    for own, above in ((LIMIT + 2.5, 3.0), (LIMIT - 3.0, 0.5)):
        emissions = scan(w, own, above, [5, 10])
        folder = w.last
        lines = folder.run("judge", "bench.sheet").splitlines()
        for line in lines:
            signed = re.findall(r"(?<!\S)\+\d+\.\d(?!\S)", line)
            verdict = re.search(r"^(exceeds|complies)\b|\b(exceeds|complies)$", line.strip())
            if verdict and ("harmonic" in line) and ("MHz" in line):
                word = verdict.group(1) or verdict.group(2)
                if (word == "exceeds") == bool(signed):
                    wrong.append(" ".join(line.split()))
        odd = sum((e["verdict"], e["margin_db"] > 0) in (("exceeds", True), ("complies", False)) for e in emissions)
        w.say(f"radio's own {number(own - LIMIT, 1)} dB: {odd} of 36 verdicts against their level's margin")
    w.say(f"{len(wrong)} rows against themselves" + (f", e.g. {wrong[0]}" if wrong else ""))
    w.must(not wrong, f"{len(wrong)} rows against themselves")


@case("12 conformity with an ambient far below", "3rd -25.0 dBm, the radio's by a step; the unkeyed sweep shows a line 25 dB below it at "
      "the same place", "origin radio, conformity a number")
def conformity(w):
    folder = w.folder(mask=mask())
    sweep = Sweep(140e6, 450e6, 30e3, 15e3)
    radio = Radio(146e6, 37.0, {3: -25.0})
    unkeyed = folder.sweep(None, sweep, air=[(438e6, -90.0)])
    folder.radio(radio, [sweep], [(10, sweep)], unkeyed=unkeyed)
    third = harmonic(folder.judge()["radios"][0], 3)
    w.say(f"{seen(third)}, conformity {third['conformity']}")
    w.must(third["origin"] == "radio" and third["conformity"] is not None, "not radio with a number")


@case("12 a sweep cut on a harmonic", "4th harmonic 1.2 dB under the limit, swept in one piece, and in two that meet exactly on it",
      "complies in one piece; in two that meet on it, where neither holds the whole line, no better and the level still within U")
def cut(w):
    found = []
    for ends in ([(140e6, 600e6)], [(140e6, 584e6), (584e6, 600e6)]):
        folder = w.folder(mask=mask(harmonics=4))
        sweeps = [Sweep(low, high, 100e3, 50e3) for low, high in ends]
        folder.radio(Radio(146e6, 37.0, {4: LIMIT - 1.2}), sweeps, [(10, s) for s in sweeps])
        found.append(harmonic(folder.judge()["radios"][0], 4))
        w.say(seen(found[-1]))
    w.must(found[0]["verdict"] == "complies" and found[1]["verdict"] in ("complies", "inconclusive", "not proven"), "not complies in one piece, or exceeds in two")
    w.must(all(abs(e["level_dbm"] - (LIMIT - 1.2)) <= e["expanded_db"] for e in found), "a level is not within U")
