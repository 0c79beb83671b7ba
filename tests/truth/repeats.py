"""Point 4: repeats whose carriers differ, an emission that exceeds in one of several, and a coarse sweep beside a step test."""
from bench import Radio, Sweep, harmonic
from cases import case, codes, number, seen, told

HF = 14.1e6
FINE = Sweep(1e6, 150e6, 10e3, 5e3)


def judged(w, radios, analyzer=None, steps=True):
    """One condition whose keyed sweeps are those radios, one each."""
    folder = w.folder(analyzer=analyzer, necessary_bandwidth="100kHz")  # wider than 3 RBW either side: nothing beside the carrier is left open
    phases = {2: 0.3, 3: 2.0}
    names = [folder.sweep(radio, FINE, phases) for radio in radios]
    step = [(10, folder.sweep(radios[-1], FINE.but(attenuation=20), phases))] if steps else []
    folder.radio(radios[0], names, step, phases=phases, rated_w=None)
    return folder.judge()["radios"][0]


@case("4 repeats whose carriers differ, {0[0]:g} and {0[1]:g} dBm", "us-amateur below 30 MHz (limit P - 43); one sweep P {0[0]:g} dBm, 2nd "
      "-11.0: complies alone; one P {0[1]:g} dBm, 2nd -10.5: 1.5 dB over alone",
      "exceeds, as the second does alone, in either order; a warning that neither alone gives names the difference; P's U holds both", over=[(37.0, 31.0),
            (40.0, 31.0)])
def carriers(w, levels):
    full, low = Radio(HF, levels[0], {2: -11.0}), Radio(HF, levels[1], {2: -10.5})
    alone = [judged(w, [radio], steps=False) for radio in (full, low)]
    w.say("alone: " + ", ".join(f"{c['verdict']} {number(c['worst_margin_db'])}" for c in alone))
    w.must([c["verdict"] for c in alone] == ["complies", "exceeds"], "alone they do not comply and exceed")
    for pair in ([full, low], [low, full]):
        both = judged(w, pair, steps=False)
        p = both["fundamental"]
        # a warning of levels that disagree does not name the carriers, unless it is the carriers' own
        new = {x["code"] for x in both["warnings"] if x["code"] not in codes(*alone) | {"repeats"} and (x["code"] != "sweeps-disagree" or "14.1" in x["text"])}
        w.say(f"together: {both['verdict']} {number(both['worst_margin_db'])}, P {number(p['level_dbm'])} +- {number(p['expanded_db'])[1:]}, new warnings "
              f"{sorted(new)}")
        w.must(both["verdict"] == "exceeds", "together: not exceeds")
        w.must(new, "no warning names the difference")
        w.must(p["expanded_db"] is not None and p["expanded_db"] >= 3.0, "P's U does not hold both carriers")


@case("4 repeats whose carriers agree", "three equal sweeps, P 37.0, 2nd -12.0 (6 dB under)", "complies; no warning beyond those of one alone "
      "but repeats; P's U under 1 dB")
def agree(w):
    radio = Radio(HF, 37.0, {2: -12.0})
    one, three = judged(w, [radio], steps=False), judged(w, [radio] * 3, steps=False)
    new = codes(three) - codes(one) - {"repeats"}
    w.say(f"{told(three)}, new warnings {sorted(new)}, U of P {three['fundamental']['expanded_db']:.2f}")
    w.must(three["verdict"] == "complies" and not new and three["fundamental"]["expanded_db"] < 1.0, "not complies, or a false alarm")


@case("4 one of {} repeats exceeds", "146 MHz, us-amateur (limit -16.02): the 3rd at -19.0, -12.0, -19.2 dBm in {} equal sweeps (two: the "
      "first two); the analyzer's product 90 dB below: origin radio by prediction",
      "exceeds: what is seen in any valid sweep counts", over=[2, 3])
def one_exceeds(w, n):
    folder = w.folder()
    sweep = Sweep(100e6, 1.5e9, 100e3, 50e3)
    radios = [Radio(146e6, 37.0, {3: level}) for level in (-19.0, -12.0, -19.2)[:n]]
    # a close sweep too, so that nothing about the carrier is left open
    folder.radio(radios[0], [folder.sweep(r, sweep) for r in radios] + [Sweep(145e6, 147e6, 1e3)])
    condition = folder.judge()["radios"][0]
    third = harmonic(condition, 3)
    w.say(told(condition) + "; " + seen(third) + f", radio's part {number(third['radio_part_low_dbm'])} to {number(third['radio_part_high_dbm'])}")
    w.must(condition["verdict"] == "exceeds" and third["verdict"] == "exceeds", "not exceeds")


@case("4 a coarse sweep beside a step test, {}", "146 MHz: 2nd -14.0 dBm, 2 dB over; the analyzer's product far below it; a fine sweep with "
      "steps of 10 and 20 dB: exceeds; then an undersampled sweep "
      "of the same settings added to the keyed ones: {}", "exceeds with and without it; the radio's part no wider by more than 0.5 dB",
            over=["rms, points 4 RBW apart", "rms, points 10 RBW apart", "peak, points 14 RBW apart"])
def coarse_beside(w, how):
    fine = Sweep(100e6, 460e6, 100e3, 50e3)
    apart = float(how.split()[2]) * 100e3
    coarse = fine.but(spacing=apart) if how.startswith("rms") else fine.but(spacing=apart, detector="peak", average="none", averages=1)
    radio = Radio(146e6, 37.0, {2: -14.0})
    parts = []
    for extra in ([], [coarse]):
        folder = w.folder()
        folder.radio(radio, [fine, Sweep(145e6, 147e6, 1e3)] + extra, [(10, fine), (20, fine)], phases={2: 1.2, 3: 0.5})
        second = harmonic(folder.judge()["radios"][0], 2)
        parts.append((second["radio_part_low_dbm"], second["radio_part_high_dbm"]))
        w.say(f"{'with' if extra else 'without'}: {seen(second)}, radio's part {number(parts[-1][0])} to {number(parts[-1][1])}")
        w.must(second["verdict"] == "exceeds", f"{'with' if extra else 'without'}: not exceeds")
    if w.must(all(None not in part for part in parts), "the radio's part has no ends"):
        w.must(parts[1][0] > parts[0][0] - 0.5 and parts[1][1] < parts[0][1] + 0.5, "the radio's part is widened")
