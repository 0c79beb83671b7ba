"""Point 3: each sweep is judged by its own resolution bandwidth; what a limit covers and no sweep could see is a gap."""
from bench import Analyzer, Chain, Radio, Sweep, covers, harmonic, near, touches
from cases import LIMIT, case, mask, number, seen, told

TWO = 146e6


def beside(w, which, spur, step=True, **keys):
    """A spur near the carrier; `which` sweeps in order: near (RBW 1 kHz, 2 MHz), far (RBW 100 kHz, 100 MHz to 1.5 GHz)."""
    folder = w.folder(**keys)
    given = {"near": Sweep(TWO - 1e6, TWO + 1e6, 1e3, 500), "far": Sweep(100e6, 1.5e9, 100e3, 50e3)}
    sweeps = [given[name] for name in which]
    folder.radio(Radio(TWO, 37.0, spurs=spur), sweeps, [(10, s) for s in sweeps] if step else [])
    return folder.judge()["radios"][0]


@case("3 hidden beside the carrier, {}", "146 MHz, 5 W, us-amateur; a spur at +200 kHz, -8.0 dBm, 8 dB over; sweeps {} (near: 2 MHz at RBW 1 "
      "kHz; far: 1.4 GHz at 100 kHz), step beside each",
      "exceeds, the spur listed with -8.0 within U: a far sweep added takes nothing away", over=["near", "near, far", "far, near"])
def hidden(w, which):
    condition = beside(w, which.split(", "), [(TWO + 200e3, -8.0)])
    there = near(condition, TWO + 200e3, 5e3)
    w.say(told(condition) + "; there: " + (seen(there[0]) if there else "nothing"))
    w.must(condition["verdict"] == "exceeds", "not exceeds")
    w.must(there and abs(there[0]["level_dbm"] + 8.0) <= there[0]["expanded_db"], "the spur is not listed within U of -8.0")


@case("3 hidden beside the carrier, far alone", "as above, far sweep alone: the spur lies inside its 3 RBW",
      "not complies; a gap or an emission at +200 kHz")
def hidden_far(w):
    condition = beside(w, ["far"], [(TWO + 200e3, -8.0)])
    w.say(told(condition))
    w.must(condition["verdict"] != "complies", "complies")
    w.must(touches(condition["gaps"], TWO + 200e3) or near(condition, TWO + 200e3, 20e3), "neither gap nor emission at +200 kHz")


@case("3 clean beside the carrier, both sweeps", "as above without the spur, near and far sweeps: all seen", "complies, no gap")
def clean_both(w):
    condition = beside(w, ["near", "far"], [])
    w.say(told(condition))
    w.must(condition["verdict"] == "complies" and not condition["gaps"], "not complies, or a gap")


@case("3 ring about the carrier", "mask with search=100MHz 310MHz, limit from 8 kHz off; one sweep at RBW 100 kHz; a spur at +250 kHz, -8.0 "
      "dBm, 8 dB over, step beside",
      "not complies; gaps cover 10 to 240 kHz off on both sides (or the spur is listed)")
def ring(w):
    folder = w.folder(mask=mask(harmonics=2, search="100MHz 310MHz"))
    sweep = Sweep(90e6, 320e6, 100e3, 50e3)
    folder.radio(Radio(TWO, 37.0, spurs=[(TWO + 250e3, -8.0)]), [sweep], [(10, sweep)])
    condition = folder.judge()["radios"][0]
    w.say(told(condition))
    w.must(condition["verdict"] != "complies", "complies")
    for side in (-1, 1):
        ends = sorted((TWO + side * 10e3, TWO + side * 240e3))
        w.must(covers(condition["gaps"], *ends), f"gaps do not cover {ends[0] / 1e6:.3f} to {ends[1] / 1e6:.3f} MHz")


@case("3 coarse peak sweep about the carrier, +{:g} kHz", "search=100MHz 310MHz; positive peak, RBW 30 kHz, points 150 kHz apart; a "
      "spur at +{:g} kHz of -8.0 dBm",
      "not complies; the spur or a gap there", over=[200, 300, 400])
def ring_peak(w, off):
    folder = w.folder(mask=mask(harmonics=2, search="100MHz 310MHz"))
    sweep = Sweep(90e6, 320e6, 30e3, 150e3, "peak", "none", 1)
    folder.radio(Radio(TWO, 37.0, spurs=[(TWO + off * 1e3, -8.0)]), [sweep], [(10, sweep)])
    condition = folder.judge()["radios"][0]
    there = near(condition, TWO + off * 1e3, 100e3)
    w.say(told(condition) + "; there: " + (seen(there[0]) if there else "nothing"))
    w.must(condition["verdict"] != "complies", "complies")
    w.must(there or touches(condition["gaps"], TWO + off * 1e3), "neither the spur nor a gap there")


@case("3 about zero hertz", "search=9kHz 400MHz; one sweep 0 to 500 MHz at RBW 100 kHz; a line of -5.0 dBm at 300 kHz, 11 dB over; the "
      "response at zero hertz at -20 dBm",
      "not complies; gaps cover 9 to 290 kHz")
def zero(w):
    folder = w.folder(mask=mask(harmonics=2, search="9kHz 400MHz", rules=[("1", f"fundamental=1MHz 3GHz\nemission=9kHz "
          f"3GHz\nattenuation_db=40\nceiling_dbm={LIMIT}")]),
                      analyzer=Analyzer(feedthrough=-20.0))
    sweep = Sweep(0, 500e6, 100e3, 50e3)
    folder.radio(Radio(TWO, 37.0, spurs=[(300e3, -5.0)]), [sweep], [(10, sweep)])
    condition = folder.judge()["radios"][0]
    w.say(told(condition))
    w.must(condition["verdict"] != "complies", "complies")
    w.must(covers(condition["gaps"], 10e3, 290e3), "gaps do not cover 10 to 290 kHz")


@case("3 between two spans", "search=100MHz 500MHz; sweeps 90 to 250 and 300 to 510 MHz; a spur at 270 MHz nobody could see",
      "not complies; gaps cover 251 to 299 MHz")
def between(w):
    folder = w.folder(mask=mask(harmonics=2, search="100MHz 500MHz"))
    sweeps = [Sweep(90e6, 250e6, 10e3, 8e3), Sweep(300e6, 510e6, 10e3, 8e3), Sweep(TWO - 1e6, TWO + 1e6, 1e3)]
    folder.radio(Radio(TWO, 37.0, {}, spurs=[(270e6, 0.0)]), sweeps)
    condition = folder.judge()["radios"][0]
    w.say(told(condition))
    w.must(condition["verdict"] != "complies", "complies")
    w.must(covers(condition["gaps"], 251e6, 299e6), "gaps do not cover 251 to 299 MHz")


@case("3 only a search range", "mask with harmonics=1 and search=100MHz 310MHz; swept whole, near (RBW 1 kHz) and far (10 kHz), clean; "
      "floor 36 dB under", "complies, no gap")
def only_search(w):
    folder = w.folder(mask=mask(harmonics=1, search="100MHz 310MHz"))
    folder.radio(Radio(TWO, 37.0), [Sweep(90e6, 320e6, 10e3, 5e3), Sweep(TWO - 1e6, TWO + 1e6, 1e3)])
    condition = folder.judge()["radios"][0]
    w.say(told(condition))
    w.must(condition["verdict"] == "complies" and not condition["gaps"], "not complies, or a gap")


@case("3 only a search range, cut short", "as above, swept to 250 MHz only", "not proven; a gap from 250 to 310 MHz")
def only_search_short(w):
    folder = w.folder(mask=mask(harmonics=1, search="100MHz 310MHz"))
    folder.radio(Radio(TWO, 37.0), [Sweep(90e6, 250e6, 10e3, 5e3), Sweep(TWO - 1e6, TWO + 1e6, 1e3)])
    condition = folder.judge()["radios"][0]
    w.say(told(condition))
    w.must(condition["verdict"] == "not proven" and covers(condition["gaps"], 250.1e6, 310e6), "not proven with its gap")


@case("3 few points over everything", "80 m, 100 W, us-amateur (limit 7 dBm); 9 kHz to 1 GHz in 1001 points, RBW 100 kHz, peak; a spur at "
      "1.22 MHz of 10.5 dBm, 3.5 dB over, between zero hertz and carrier",
      "not complies; the spur or a gap at 1.22 MHz")
def few_points(w):
    folder = w.folder(chain=Chain([(9e3, 60.0), (6e9, 60.0)]), analyzer=Analyzer(feedthrough=-25.0), necessary_bandwidth="3kHz")
    sweep = Sweep(9e3, 1e9, 100e3, (1e9 - 9e3) / 1000, "peak", "none", 1)
    folder.radio(Radio(3.7e6, 50.0, {2: -20.0}, spurs=[(1.22e6, 10.5)]), [sweep], [(10, sweep)])
    condition = folder.judge()["radios"][0]
    there = near(condition, 1.22e6, 1e6)
    w.say(told(condition) + "; there: " + (seen(there[0]) if there else "nothing"))
    w.must(condition["verdict"] != "complies", "complies")
    w.must(there or touches(condition["gaps"], 1.22e6), "neither the spur nor a gap at 1.22 MHz")


@case("3 a sweep added never betters, {:g} kHz off", "a spur of -8.0 dBm at {:g} kHz off the carrier; RBW 1 kHz alone, then each of RBW 3, 10, "
      "30, 100 and 300 kHz added", "exceeds each time",
      over=[12, 40, 120, 500, 900])
def never_betters(w, off):
    for rbw in (None, 3e3, 10e3, 30e3, 100e3, 300e3):
        folder = w.folder(mask=mask(harmonics=2))
        close = Sweep(TWO - 1e6, TWO + 1e6, 1e3, 500)
        sweeps = [close] + ([Sweep(max(100e6, TWO - 2000 * rbw), min(310e6, TWO + 2000 * rbw), rbw)] if rbw else [])
        folder.radio(Radio(TWO, 37.0, spurs=[(TWO + off * 1e3, -8.0)]), sweeps, [(10, s) for s in sweeps])
        condition = folder.judge()["radios"][0]
        w.say(f"{(rbw or 0) / 1e3:g} kHz: {condition['verdict']} {number(condition['worst_margin_db'])}")
        w.must(condition["verdict"] == "exceeds", f"RBW {rbw} added: {condition['verdict']}")
