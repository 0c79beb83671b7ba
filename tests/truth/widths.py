"""Point 1: an emission has a width. FM, speech-like and noise-like emissions, at resolution bandwidths from a fraction of their width to many times it."""
from bench import Analyzer, Radio, Sweep, harmonic, near, touches
from cases import case, level_holds, mask, number, seen, told

FM = (1e3, 5e3)  # tone, deviation; n-fold at the nth harmonic
RBW = [100e3, 30e3, 10e3, 7e3, 4e3, 3e3, 1e3]


def ten_metres(w, rbw, levels, sweep=None, close=False, **radio):
    """A 5 W radio at 29.6 MHz, swept to its 3rd harmonic with a step beside it. Necessary bandwidth 40 kHz: beyond 20 kHz the FM's own lines, and
    their skirts in a 3 kHz filter, lie under the limit. With `close`, the neighbourhood of the carrier is swept at 1 kHz too, so that nothing there is left open."""
    folder = w.folder(mask=mask(), necessary_bandwidth="40kHz")
    sweeps = [sweep or Sweep(29e6, 90e6, rbw)] + ([Sweep(29.1e6, 30.1e6, 1e3)] if close else [])
    folder.radio(Radio(29.6e6, 37.0, levels, **radio), sweeps, [(10, s) for s in sweeps])
    return folder.judge()["radios"][0]


@case("1 FM harmonics, RBW {:g} Hz", "tone 1 kHz, deviation 5 kHz; 2nd and 3rd harmonic -12.0 dBm, 4 dB over -16.02; rms, power average of "
      "16, points RBW/2 apart, step "
      "beside; RBW {:g} Hz", "both levels within U of -12.0, both exceed", over=RBW)
def fm_harmonics(w, rbw):
    condition = ten_metres(w, rbw, {2: -12.0, 3: -12.0}, tone=FM)
    for order in (2, 3):
        emission = harmonic(condition, order)
        w.say(seen(emission))
        w.must(level_holds(emission, -12.0), f"order {order}: level is not within U of -12.0")
        w.must(emission["verdict"] == "exceeds", f"order {order}: {emission['verdict']}, not exceeds")
    w.must(condition["verdict"] == "exceeds", f"the condition {condition['verdict']}")


@case("1 FM harmonics at 146 MHz, RBW 3 kHz", "as above, at 146 MHz under us-amateur's figures to the 3rd",
      "not complies; levels within U of -12.0")
def fm_two_metres(w):
    folder = w.folder(mask=mask())
    sweep = Sweep(145e6, 440e6, 3e3)
    folder.radio(Radio(146e6, 37.0, {2: -12.0, 3: -12.0}, tone=FM), [sweep], [(10, sweep)])
    condition = folder.judge()["radios"][0]
    w.say(told(condition))
    w.must(condition["verdict"] == "exceeds", "not exceeds")
    for order in (2, 3):
        w.say(seen(harmonic(condition, order)))
        w.must(level_holds(harmonic(condition, order), -12.0), f"order {order}: level is not within U of -12.0")


@case("1 FM harmonics below the limit, RBW {:g} Hz", "as above, 2nd and 3rd harmonic -20.0 dBm, 4 dB under; RBW {:g} Hz",
      "levels within U of -20.0, complies",
      over=[30e3, 3e3])
def fm_below(w, rbw):
    condition = ten_metres(w, rbw, {2: -20.0, 3: -20.0}, close=True, tone=FM)
    w.say(told(condition))
    for order in (2, 3):
        w.say(seen(harmonic(condition, order)))
        w.must(level_holds(harmonic(condition, order), -20.0), f"order {order}: level is not within U of -20.0")
    w.must(condition["verdict"] == "complies", "not complies")


@case("1 FM harmonics say how they were read", "FM as above at RBW 3 kHz, and an unmodulated one",
      "kind modulated, level_by integrated, a width near Carson's for the FM; "
      "kind line, level_by line, width null without")
def fm_says(w):
    condition = ten_metres(w, 3e3, {2: -12.0}, tone=FM)
    second = harmonic(condition, 2)
    w.say(f"FM: {second.get('kind')}, {second.get('level_by')}, {second.get('bandwidth_hz')} Hz")
    w.must((second.get("kind"), second.get("level_by")) == ("modulated", "integrated"), "FM: not modulated, integrated")
    carson = 2 * (2 * FM[1] + FM[0])  # of the 2nd harmonic: deviation twice as wide
    w.must(0.6 * carson < (second.get("bandwidth_hz") or 0) < 1.8 * carson, f"its width is not near {carson:g} Hz")
    w.must("level_in_hz" in second and second["level_in_hz"] is None, "no reference bandwidth: level_in_hz is not null")
    plain = harmonic(ten_metres(w, 3e3, {2: -12.0}), 2)
    w.say(f"line: {plain.get('kind')}, {plain.get('level_by')}, {plain.get('bandwidth_hz')}")
    w.must((plain.get("kind"), plain.get("level_by")) == ("line", "line"), "line: not line, line")
    w.must(level_holds(plain, -12.0), "line: level is not within U")


@case("1 speech-like harmonics, RBW {:g} Hz", "Gaussian spectrum, sigma 2 kHz at the carrier and n-fold at the nth; 2nd and 3rd -12.0 dBm; "
      "rms, power average of 16; RBW {:g} Hz",
      "levels within U of -12.0, both exceed", over=[30e3, 3e3, 1e3])
def speech(w, rbw):
    condition = ten_metres(w, rbw, {2: -12.0, 3: -12.0}, speech=2e3)
    for order in (2, 3):
        w.say(seen(harmonic(condition, order)))
        fades = 1.5 if rbw > 20e3 else 0.3  # all of it within the filter: 16 looks of a fading power scatter by 1.1 dB, and no sweep can tell
        w.must(level_holds(harmonic(condition, order), -12.0, fades), f"order {order}: level is not within U (and {fades} dB) of -12.0")
    w.must(condition["verdict"] == "exceeds", f"the condition {condition['verdict']}")


@case("1 FM read by {}", "harmonics -12.0 dBm FM at RBW 3 kHz, swept so that no sum of powers is right: {}",
      "not complies; what would prove it is said", over=[
    "sample, log average of 16", "peak", "minimum hold of 5", "sample, points 3 RBW apart", "rms, points 3 RBW apart"])
def fm_bounds(w, how):
    detector, average, averages, hold, apart = {
        "sample, log average of 16": ("sample", "log", 16, None, 0.5), "peak": ("peak", "none", 1, None, 0.5), "minimum hold of 5": ("sample", "none", 5, "min",
               0.5),
        "sample, points 3 RBW apart": ("sample", "none", 1, None, 3), "rms, points 3 RBW apart": ("rms", "power", 16, None, 3)}[how]
    sweep = Sweep(29e6, 90e6, 3e3, apart * 3e3, detector, average, averages, hold)
    condition = ten_metres(w, 3e3, {2: -12.0, 3: -12.0}, sweep, tone=FM)
    w.say(told(condition) + "; " + seen(harmonic(condition, 2)))
    w.must(condition["verdict"] != "complies", "complies")
    for order in (2, 3):
        emission = harmonic(condition, order)
        w.must(emission["verdict"] != "complies", f"order {order} complies")
        if emission["verdict"] == "not proven":
            w.must(emission["would_prove"], f"order {order}: nothing is said to prove it")


@case("1 FM below the limit read by {}", "harmonics -17.5 dBm FM, 1.5 dB under the limit, read high: {}",
      "not exceeds: an upper bound proves complies, never exceeds",
      over=["peak, RBW 3 kHz", "peak with maximum hold of 20, RBW 10 kHz", "peak with maximum hold of 20, RBW 1 kHz"])
def fm_high(w, how):
    rbw = {"3": 3e3, "10": 10e3, "1": 1e3}[how.split("RBW ")[1].split()[0]]
    sweep = Sweep(29e6, 90e6, rbw, None, "peak", "none", 20 if "hold" in how else 1, "max" if "hold" in how else None)
    condition = ten_metres(w, rbw, {2: -17.5, 3: -17.5}, sweep, tone=FM)
    w.say(told(condition) + "; " + seen(harmonic(condition, 2)))
    w.must(condition["verdict"] != "exceeds", "exceeds")


CARRIERS = [(tone, deviation, rbw) for tone, deviation in ((1e3, 5e3), (1e3, 2.5e3), (1.2e3, 4.5e3), (600, 3e3)) for rbw in (7e3, 3e3, 300)] + [(1e3, 5e3, 100)]


@case("1 P of FM, tone/deviation/RBW {0[0]:g}/{0[1]:g}/{0[2]:g} Hz", "a 37.00 dBm carrier at 146 MHz, FM with tone, deviation {0[0]:g}, "
      "{0[1]:g} Hz, step beside; RBW {0[2]:g} Hz, "
      "points 0.3, 0.5 and 0.8 RBW apart", "P within U of 37.00; the fundamental within 1.5 kHz or a point of 146 MHz; inside 8 kHz (half the necessary "
            "bandwidth) nothing exceeds", over=CARRIERS)
def fm_carrier(w, what):
    tone, deviation, rbw = what
    for apart in (0.3, 0.5, 0.8):
        folder = w.folder()
        sweep = Sweep(145.8e6, 146.2e6, rbw, apart * rbw)
        folder.radio(Radio(146e6, 37.0, tone=(tone, deviation)), [sweep], [(10, sweep)])
        condition = folder.judge()["radios"][0]
        p = condition["fundamental"]
        over = [e for e in condition["emissions"] if e["verdict"] == "exceeds" and abs(e["frequency_hz"] - 146e6) < 7.9e3]
        w.say(f"{apart}: P {number(p['level_dbm'])} +- {number(p['expanded_db'])[1:]} at {(p['frequency_hz'] or 0) / 1e6:.6f} MHz, {len(over)} exceed"
              + (f" by {-min(e['margin_db'] for e in over):.1f}" if over else ""))
        if not w.must(p["level_dbm"] is not None and p["expanded_db"] is not None, f"points {apart} RBW apart: no P"):
            continue
        w.must(abs(p["level_dbm"] - 37.0) <= p["expanded_db"], f"points {apart} RBW apart: P is not within U of 37.00")
        w.must(abs(p["frequency_hz"] - 146e6) <= max(1.5e3, apart * rbw), f"points {apart} RBW apart: the fundamental is put on a sideband")
        w.must(not over, f"points {apart} RBW apart: the carrier's own lines exceed")


def hump(w, half, rbw, density, **keys):
    folder = w.folder(mask=mask(**keys))
    sweep = Sweep(100e6, 450e6, rbw, 0.8 * rbw)
    folder.radio(Radio(146e6, 37.0, humps=[(330e6, half, density)]), [sweep], [(10, sweep)])
    condition = folder.judge()["radios"][0]
    there = [e for e in near(condition, 330e6, half + 3 * rbw) if e["order"] is None]
    w.say(told(condition) + "; at 330 MHz: " + (seen(there[0]) if there else "nothing"))
    return condition, there


HUMPS = [(300e3, 10e3), (1e6, 10e3), (3e6, 10e3), (3e6, 100e3)]


@case("1 noise-like, half width/RBW {0[0]:g}/{0[1]:g} Hz", "noise-like emission at 330 MHz, -50 dBm/Hz, half width {0[0]:g} Hz: 6 dB over as "
      "read in 10 kHz, 45 dB out of the noise; "
      "no search range; RBW {0[1]:g} Hz", "not complies; an emission or a gap at 330 MHz", over=HUMPS)
def broad(w, what):
    condition, there = hump(w, *what, -50.0)
    w.must(condition["verdict"] != "complies", "complies")
    w.must([e for e in there if e["verdict"] != "complies"] or touches(condition["gaps"], 330e6), "neither an emission nor a gap at 330 MHz")


@case("1 noise-like with a search range", "as above, half width 1 MHz, under a mask with search=100MHz 450MHz",
      "not complies; an emission or a gap at 330 MHz")
def broad_search(w):
    condition, there = hump(w, 1e6, 10e3, -50.0, search="100MHz 450MHz")
    w.must(condition["verdict"] != "complies", "complies")
    w.must([e for e in there if e["verdict"] != "complies"] or touches(condition["gaps"], 330e6), "neither an emission nor a gap at 330 MHz")


@case("1 noise-like, narrower than the window", "as above, half width 30 kHz, step beside", "exceeds, found at 330 MHz")
def narrow(w):
    condition, there = hump(w, 30e3, 10e3, -50.0)
    w.must(condition["verdict"] == "exceeds" and there, "not exceeds, or not listed")


@case("1 noise-like on the 3rd harmonic", "2 MHz wide noise-like emission on 438 MHz, -50 dBm/Hz, over the limit",
      "not complies; the 3rd does not comply, or a gap at 438 MHz")
def on_harmonic(w):
    folder = w.folder(mask=mask())
    sweep = Sweep(100e6, 450e6, 10e3, 8e3)
    folder.radio(Radio(146e6, 37.0, humps=[(438e6, 1e6, -50.0)]), [sweep], [(10, sweep)])
    condition = folder.judge()["radios"][0]
    w.say(told(condition) + "; " + seen(harmonic(condition, 3)))
    w.must(condition["verdict"] != "complies", "complies")
    w.must(harmonic(condition, 3)["verdict"] != "complies" or touches(condition["gaps"], 438e6), "nothing at 438 MHz")


@case("1 the analyzer's own noise stays noise", "a clean radio; the analyzer's noise 3 dB worse than its profile says, 35 dB "
      "under the limit", "complies")
def own_noise(w):
    folder = w.folder(mask=mask(), analyzer=Analyzer(danl=-147.0, stated_danl=-150.0))
    sweep = Sweep(100e6, 450e6, 10e3, 8e3)
    folder.radio(Radio(146e6, 37.0), [sweep, Sweep(145e6, 147e6, 1e3)], [(10, sweep)])
    condition = folder.judge()["radios"][0]
    w.say(told(condition))
    w.must(condition["verdict"] == "complies", "not complies")
