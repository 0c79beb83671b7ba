"""Point 2: the reference bandwidth. Noise-like emissions and the floor go by the ratio of bandwidths, lines stay, rows by offset are judged in their own."""
from bench import Radio, Sweep, covers, harmonic, near, touches
from cases import case, level_holds, mask, seen, told

HUNDRED = [("1", "fundamental=1MHz 3GHz\nattenuation_db=0\nceiling_dbm=-36\nreference_bandwidth=100kHz")]
FRS_P = 27.0  # 0.5 W
FRS_F = 462.5625e6
FRS_LIMIT = -13.0  # 43 + 10 log P below P, farther than 31.25 kHz


def against_hundred(w, radio, rbw, apart=0.8, stop=450e6, rules=None):
    """Judged against -36 dBm in 100 kHz from 100 kHz off the carrier on (nearer its phase noise is over it); swept close by at 10 kHz too."""
    folder = w.folder(mask=mask(rules=rules or HUNDRED), necessary_bandwidth="200kHz")
    sweeps = [Sweep(100e6, stop, rbw, apart * rbw), Sweep(144e6, 148e6, 10e3)]
    folder.radio(radio, sweeps, [(10, s) for s in sweeps])
    return folder.judge()["radios"][0]


@case("2 noise-like on the 2nd harmonic in 100 kHz, RBW {:g} Hz", "noise-like, 600 kHz wide, -80 dBm/Hz on 292 MHz: -30.0 dBm in 100 kHz, 6 "
      "dB over -36; swept at RBW {:g} Hz",
      "not complies; the 2nd's level within U of -30.0 in 100 kHz, a bound on its side of it, or a gap there", over=[3e3, 10e3, 30e3, 100e3])
def noise_like(w, rbw):
    condition = against_hundred(w, Radio(146e6, 37.0, humps=[(292e6, 300e3, -80.0)]), rbw, 0.5)
    second = harmonic(condition, 2)
    w.say(told(condition) + "; " + seen(second))
    w.must(condition["verdict"] not in ("complies", "no limit"), "complies")
    w.must(second["verdict"] != "complies" or touches(condition["gaps"], 292e6), "the 2nd complies")
    if second["detected"]:
        # noise-like: the greatest of several windows lies somewhat over the mean one
        w.must(level_holds(second, -30.0, 1.0), "the 2nd's level is not within U (and 1 dB) of -30.0")
        w.must(second.get("level_in_hz") == 100e3, "level_in_hz is not 100 kHz")


@case("2 noise-like 6 dB under in 100 kHz, RBW {:g} Hz", "as above, -92 dBm/Hz: -42.0 dBm in 100 kHz, 6 dB under; RBW {:g} Hz",
      "not exceeds; where the noise allows it (10 kHz), complies",
      over=[3e3, 10e3, 300e3])
def noise_like_under(w, rbw):
    condition = against_hundred(w, Radio(146e6, 37.0, humps=[(292e6, 300e3, -92.0)]), rbw, 0.5)
    w.say(told(condition) + "; " + seen(harmonic(condition, 2)))
    w.must(condition["verdict"] != "exceeds", "exceeds")
    if rbw == 10e3:
        w.must(condition["verdict"] == "complies", "not complies at 10 kHz")


@case("2 broad noise in 100 kHz, RBW {:g} Hz", "noise-like, 200 MHz wide about 300 MHz, -84 dBm/Hz: -34.0 dBm in 100 kHz, 2 dB over -36; RBW "
      "{:g} Hz", "not complies", over=[10e3, 100e3])
def broad(w, rbw):
    condition = against_hundred(w, Radio(146e6, 37.0, humps=[(300e6, 100e6, -84.0)]), rbw, 0.8)
    w.say(told(condition) + "; " + seen(harmonic(condition, 2)))
    w.must(condition["verdict"] not in ("complies", "no limit"), "complies")


@case("2 the floor in 100 kHz", "a clean radio; the analyzer's noise is -45 dBm in 10 kHz at the socket, -35 dBm in 100 kHz; limit -36 dBm "
      "in 100 kHz; swept at 10 kHz, one sweep",
      "not complies: a floor in 10 kHz proves nothing in 100 kHz")
def floor(w):
    folder = w.folder(mask=mask(rules=HUNDRED))
    folder.analyzer.danl = -145.3
    sweep = Sweep(100e6, 450e6, 10e3, 8e3, attenuation=20)
    folder.radio(Radio(146e6, 37.0), [sweep])
    condition = folder.judge()["radios"][0]
    w.say(told(condition) + "; " + seen(harmonic(condition, 2)))
    w.must(condition["verdict"] != "complies", "complies")


@case("2 a line in 100 kHz, RBW {:g} Hz", "a line of -40.0 dBm on 292 MHz, 4 dB under -36 in 100 kHz; RBW {:g} Hz",
      "level within U of -40.0; complies", over=[3e3, 30e3, 100e3])
def line(w, rbw):
    condition = against_hundred(w, Radio(146e6, 37.0, {2: -40.0}), rbw, 0.5)
    w.say(told(condition) + "; " + seen(harmonic(condition, 2)))
    w.must(level_holds(harmonic(condition, 2), -40.0), "level is not within U of -40.0")
    w.must(condition["verdict"] == "complies", "not complies")


@case("2 FM in 100 kHz, RBW {:g} Hz", "FM 1 kHz, 5 kHz: 2nd harmonic -32.0 dBm, 4 dB over -36 in 100 kHz (it fits into 100 kHz); RBW {:g} Hz",
      "level within U of -32.0; exceeds", over=[3e3, 30e3])
def modulated(w, rbw):
    condition = against_hundred(w, Radio(146e6, 37.0, {2: -32.0}, tone=(1e3, 5e3)), rbw, 0.5)
    w.say(told(condition) + "; " + seen(harmonic(condition, 2)))
    w.must(level_holds(harmonic(condition, 2), -32.0), "level is not within U of -32.0")
    w.must(condition["verdict"] == "exceeds", "not exceeds")


@case("2 rows in bandwidths of their own", "the same noise-like density, -75 dBm/Hz, 600 kHz wide, on 2nd and 3rd; limit to 300 MHz -30 dBm in "
      "10 kHz (truth -35), above -30 dBm in 100 kHz (truth -25); RBW 3 kHz",
      "each level in its row's bandwidth; 2nd not exceeds, 3rd not complies, the condition not complies")
def rows(w):
    row = "fundamental=1MHz 3GHz\nemission={}\nattenuation_db=0\nceiling_dbm=-30\nreference_bandwidth={}"
    condition = against_hundred(w, Radio(146e6, 37.0, humps=[(292e6, 300e3, -75.0), (438e6, 300e3, -75.0)]), 3e3, 0.5, rules=[
        ("low", row.format("1MHz 300MHz", "10kHz")), ("high", row.format("300MHz 3GHz", "100kHz"))])
    second, third = harmonic(condition, 2), harmonic(condition, 3)
    w.say(told(condition) + "; " + seen(second) + "; " + seen(third))
    w.must(condition["verdict"] != "complies", "complies")
    w.must(second["verdict"] != "exceeds", "the 2nd exceeds")
    w.must(third["verdict"] != "complies", "the 3rd complies")
    w.must((second.get("level_in_hz"), third.get("level_in_hz")) == (10e3, 100e3), "levels are not in 10 and 100 kHz")
    w.must(level_holds(second, -35.0, 1.5) and level_holds(third, -25.0, 1.5), "levels are not within U (and 1.5 dB) of -35 and -25")


def family(w, sweeps, spurs=(), humps=()):
    """A 0.5 W radio at 462.5625 MHz under us-frs: 300 Hz rows from 6.25 to 31.25 kHz, 30 kHz beyond."""
    folder = w.folder(mask="us-frs", necessary_bandwidth="11kHz")
    far = Sweep(30e6, 4.7e9, 100e3, 80e3, averages=4)
    near_by = {"far": far, "300": Sweep(FRS_F - 150e3, FRS_F + 150e3, 300, 150), "3k": Sweep(FRS_F - 3e6, FRS_F + 3e6, 3e3, 1.5e3),
               "10k": Sweep(FRS_F - 6e6, FRS_F + 6e6, 10e3, 5e3)}
    radio = Radio(FRS_F, FRS_P, spurs=spurs, humps=humps)
    folder.radio(radio, [near_by[s] for s in sweeps], [(10, near_by[s]) for s in sweeps])
    return folder.judge()["radios"][0]


@case("2 a line in a 300 Hz row, swept {0}", "us-frs; a line at +20 kHz of +2.0 dBm, 10 dB over its 300 Hz row (P - 35); sweeps: {0} "
      "(far: RBW 100 kHz)", "not complies",
      over=["300", "300 and far", "3k and far", "far"])
def line_in_row(w, which):
    condition = family(w, which.split(" and "), spurs=[(FRS_F + 20e3, FRS_P - 25.0)])
    there = near(condition, FRS_F + 20e3, 3e3)
    w.say(told(condition) + "; at +20 kHz: " + (seen(there[0]) if there else "nothing"))
    if which == "300":  # alone it leaves the harmonics unswept, and still sees the line
        w.must(there and there[0]["verdict"] == "exceeds", "not exceeds at +20 kHz")
    w.must(condition["verdict"] != "complies", "complies")
    if which == "300 and far":
        w.must(condition["verdict"] == "exceeds", "not exceeds: the close sweep shows it")


@case("2 noise in a 30 kHz row", "us-frs; noise-like from +150 to +450 kHz, 6 dB over -13 dBm in 30 kHz (-51.8 dBm/Hz); swept at RBW 3 kHz close "
      "by and 100 kHz far", "not complies")
def noise_in_row(w):
    condition = family(w, ["300", "3k", "far"], humps=[(FRS_F + 300e3, 150e3, FRS_LIMIT + 6 - 44.77)])
    there = near(condition, FRS_F + 300e3, 160e3)
    w.say(told(condition) + "; there: " + (seen(there[0]) if there else "nothing"))
    w.must(condition["verdict"] != "complies", "complies")
    w.must([e for e in there if e["verdict"] != "complies"] or touches(condition["gaps"], FRS_F + 300e3), "neither an emission nor a gap there")


@case("2 no close sweep under rows by offset", "us-frs, a clean radio, one sweep at RBW 100 kHz: nobody looked from 6.25 to 300 kHz",
      "not complies; gaps cover +6.25 to +200 kHz on both sides")
def no_close_sweep(w):
    condition = family(w, ["far"])
    w.say(told(condition))
    w.must(condition["verdict"] != "complies", "complies")
    for side in (-1, 1):
        ends = sorted((FRS_F + side * 7e3, FRS_F + side * 200e3))
        w.must(covers(condition["gaps"], *ends), f"gaps do not cover {ends[0] / 1e6:.4f} to {ends[1] / 1e6:.4f} MHz")


@case("2 an RBW ten times the row's", "us-frs, a clean radio, swept close by at 10 kHz and far at 100 kHz: rows of 300 Hz from 6.25 to 31.25 kHz",
      "not complies; a gap at +10 kHz")
def ten_times(w):
    condition = family(w, ["10k", "far"])
    w.say(told(condition))
    w.must(condition["verdict"] != "complies", "complies")
    w.must(touches(condition["gaps"], FRS_F + 10e3) and touches(condition["gaps"], FRS_F - 10e3), "no gap at 10 kHz off")
