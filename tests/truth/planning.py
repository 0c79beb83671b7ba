"""Points 7, 8 and 9: what is assumed is said; planning knows time, resolution and what cannot be had; single faults that put a notch first."""
import re

from bench import Chain, Radio, Sweep, harmonic
from cases import case, codes, mask, number, seen, told


def pads(stages, low=9e3, top=6e9, stage_more="power_coefficient=0\ntemperature_coefficient=0\n"):
    """A chain's text: [(name, dB, rating W[, more lines])], each calibrated from `low` to `top`."""
    text = f"[chain]\nname=Pads\nstages={';'.join(stage[0] for stage in stages)}\ncalibrated=2026-09-12\ntemperature_c=22\n"
    for name, db, rating, *more in stages:
        text += (f"[stage {name}]\nkind=pad\nlabel_db={db}\nrating_w={rating}\nvswr=1.05\n"
                 f"points={low:.0f} {db} 0.03; {top:.0f} {db} 0.03\nconnector_u_db=0.02\n"
                 + (more[0] if more else stage_more))
    return text


def hot(w, level=47.0, rating=51, second=None, more="", **bench):
    """50 W into a 30 dB pad, nobody having stated the change per watt (unless `more` does)."""
    text = pads([("great", 30, rating, more), ("small", 20, 5)])
    folder = w.folder(chain=Chain([(9e3, 50.0), (6e9, 50.0)], stages=text), necessary_bandwidth="3kHz", **bench)
    folder.radio(Radio(14.1e6, level, {2: second if second is not None else level - 60}), [Sweep(1e6, 150e6, 3e3, 1.5e3)])
    return folder, folder.judge()


@case("7 a pad at its rated power", "50 W into a 30 dB pad rated 51 W, change per watt not stated, temperature coefficient 0; swept at once; P "
      "47.00 dBm", "P within U of 47.00 and U under 4 dB: a pad at its "
      "rating does not move by 7 dB (today U 8.7)")
def rated_pad(w):
    _, data = hot(w, more="temperature_coefficient=0\n")
    p = data["radios"][0]["fundamental"]
    w.say(f"P {number(p['level_dbm'])} +- {p['expanded_db']:.2f}")
    w.must(abs(p["level_dbm"] - 47.0) <= p["expanded_db"], "P is not within U of 47.00")
    w.must(p["expanded_db"] < 4.0, "U is 4 dB and more")


@case("7 assumed self-heating is marked", "as above, and once with power_coefficient=0.0004 stated",
      "budget term and emission's `assumed` say so, judge warns; none of it where it is stated")
def assumed_heat(w):
    found = []
    for more in ("temperature_coefficient=0\n", "temperature_coefficient=0\npower_coefficient=0.0004\n"):
        folder, data = hot(w, more=more)
        term = next((t for t in folder.load("budget", "bench.sheet", "--radio", "Radio01", "--order", "2")["terms"] if t["term"] == "self-heating"), {})
        emission = harmonic(data["radios"][0], 2)
        texts = " ".join(x["text"] for holder in [data] + data["radios"] for x in holder["warnings"]).lower()
        found.append((term.get("assumed", False), "self-heating" in (emission.get("assumed") or []), bool(re.search("heat|per watt", texts)), codes(data,
              data["radios"][0])))
    w.say(f"not stated: budget {found[0][0]}, emission {found[0][1]}, warned {found[0][2]}; stated: {found[1][0]}, {found[1][1]}, {found[1][2]}")
    w.must(found[0][:3] == (True, True, True), "not stated, and not marked in all of budget, emission and warnings")
    w.must(found[1][:3] == (False, False, False), "stated, and marked all the same")


@case("7 assumed temperature coefficient is marked", "the bench at 40 C, the chain calibrated at 22 C, no temperature coefficient stated",
      "budget term and emission's `assumed` hold temperature")
def assumed_temperature(w):
    folder, data = hot(w, level=37.0, more="power_coefficient=0\n", temperature_c="40")
    term = next(t for t in folder.load("budget", "bench.sheet", "--radio", "Radio01", "--order", "2")["terms"] if t["term"] == "temperature")
    assumed = harmonic(data["radios"][0], 2).get("assumed")
    w.say(f"budget {term.get('assumed')}, emission {assumed}")
    w.must(term.get("assumed") is True and "temperature" in (assumed or []), "not marked")


@case("7 what settles an assumed term", "a 2nd harmonic 0.5 dB under an absolute limit with self-heating assumed the largest part of its U",
      "inconclusive or so, and the advice offers what settles it (change per watt, two minutes)")
def settles(w):
    _, data = hot(w, second=-16.52, more="temperature_coefficient=0\n", mask=mask(harmonics=2))  # absolute: where it follows P, heating cancels
    second = harmonic(data["radios"][0], 2)
    w.say(f"{seen(second)}: {second['would_prove']}")
    w.must(second["verdict"] not in ("complies", "exceeds") and re.search(r"per watt|two minutes|2 min|120 s|warm", second["would_prove"] or "", re.I),
           "the advice does not offer it")


@case("7 no bench date", "a bench without a date, chain calibrated in 2026 with an interval", "a warning that ages were not checked, which the "
      "dated bench does not give")
def no_date(w):
    said = []
    for date in ("2026-10-03", None):
        folder = w.folder(date=date)
        folder.radio(Radio(146e6, 37.0), [Sweep(140e6, 300e6, 30e3, 15e3)])
        data = folder.judge()
        said.append(codes(data, *data["radios"]))
    w.say(f"without a date: {sorted(said[1] - said[0]) or 'nothing more'}")
    w.must(said[1] - said[0], "nothing is said")


@case("7 rated power missed by {:g} dB", "rated 5 W, measured {:g} dB less, U 0.6 dB", "rated-power is said (not for 0.2 dB)", over=[1.2, 2.5,
      4.0, 0.2])
def rated(w, less):
    folder = w.folder()
    folder.radio(Radio(146e6, 36.99 - less), [Sweep(140e6, 300e6, 30e3, 15e3)], rated_w="5")
    condition = folder.judge()["radios"][0]
    w.say(f"P {number(condition['fundamental']['level_dbm'])} +- {condition['fundamental']['expanded_db']:.2f}: "
          f"{'said' if 'rated-power' in codes(condition) else 'not said'}")
    w.must(("rated-power" in codes(condition)) == (less > 0.6), "said wrongly" if less < 0.6 else "not said")


@case("7 P straddles a class", "us-amateur-before-2003, 4.8 W below 30 MHz: the limit steps by 10 dB at 5 W",
      "power-class is said, the stricter limit taken (P - 40)")
def straddles(w):
    folder = w.folder(mask="us-amateur-before-2003", necessary_bandwidth="3kHz")
    level = 36.81
    folder.radio(Radio(14.1e6, level, {2: -12.0}), [Sweep(1e6, 150e6, 10e3, 5e3)])
    condition = folder.judge()["radios"][0]
    w.say(f"{seen(harmonic(condition, 2))}; {sorted(codes(condition))}")
    w.must("power-class" in codes(condition), "not said")
    w.must(abs(harmonic(condition, 2)["limit_dbm"] - (level - 40)) < 0.7, "the limit is not the stricter one")


def planned(w, power, fundamental, mask="us-amateur", low=9e3, top=6e9, radio_more=None):
    folder = w.folder(chain=Chain(stages=pads([("great", 30, 200), ("small", 10, 2)], low, top)), mask=mask)
    folder.radio(Radio(146e6, 37.0), [], **(radio_more or {}))
    folder.files()
    return folder, folder.load("range", "bench.sheet", "--power", power, "--fundamental", fundamental)


@case("8 a sweep has its key-down time", "range for 146 MHz, 5 W: a sweep exists", "sweep.key_down_s a positive number, sweep.parts a "
      "number, key_down_s/parts at most 60 s; unprovable is a list, empty")
def key_down(w):
    _, plan = planned(w, "5W", "146MHz")
    sweep = plan["sweep"]
    w.say(f"key_down_s {sweep.get('key_down_s')}, parts {sweep.get('parts')}, unprovable {plan.get('unprovable')}")
    w.must(isinstance(sweep.get("key_down_s"), (int, float)) and sweep["key_down_s"] > 0, "no key_down_s")
    w.must(isinstance(sweep.get("parts"), int) and (sweep.get("key_down_s") or 1e9) / sweep["parts"] <= 60.0, "a part keys longer than 60 s")
    w.must(plan.get("unprovable") == [], "unprovable is not an empty list")


@case("8 a longest key-down time binds", "range for a radio with longest_key_down_s=2, limit near the noise",
      "no part of the advised sweep keys longer than 2 s (or none is advised)")
def longest(w):
    _, plan = planned(w, "1mW", "146MHz", radio_more={"longest_key_down_s": "2", "rated_w": "0.001"})
    sweep = plan["sweep"]
    w.say(f"sweep {None if sweep is None else {k: sweep.get(k) for k in ('rbw_hz', 'averages', 'parts', 'key_down_s')}}, limit "
          f"{plan['harmonics'][0]['limit_dbm']}")
    w.must(sweep is None or ("key_down_s" in sweep and sweep["key_down_s"] / sweep["parts"] <= 2.0), "a part keys longer, or nobody knows how long")


@case("8 one harmonic that no sweep can prove", "146 MHz, 5 W, harmonics to 1460 MHz; the chain calibrated to 1400 MHz only: the 10th cannot be "
      "had", "a sweep is advised, of no more parts and averages than with the whole "
      "calibration (1 part, 1 average); unprovable names the 10th")
def unprovable(w):
    _, whole = planned(w, "5W", "146MHz")
    _, short = planned(w, "5W", "146MHz", top=1.4e9)
    sweep = short["sweep"]
    fallback = sweep or short["settings"]
    w.say(f"sweep {'advised' if sweep else 'none'}: parts {fallback.get('parts')}, averages {fallback.get('averages')}, RBW {fallback.get('rbw_hz')}; "
          f"unprovable {short.get('unprovable')}")
    w.must(sweep, "no sweep is advised")
    w.must(sweep and sweep["parts"] <= whole["sweep"]["parts"] and sweep["averages"] <= whole["sweep"]["averages"],
           "more parts or averages than with the whole calibration")
    w.must(10 in [x.get("order") for x in short.get("unprovable") or []], "unprovable does not name the 10th")


@case("8 a planned radio is told the whole sweep", "a sheet with a radio of 146 MHz without a sweep, us-amateur to the 10th",
      "the advice names the whole span (to 1.46 GHz and more), not 'up to 292 MHz'")
def whole_sweep(w):
    folder, _ = planned(w, "5W", "146MHz")
    condition = folder.judge()["radios"][0]
    text = (harmonic(condition, 2)["would_prove"] or "") + " " + (condition.get("statement") or "")
    w.say(f"2nd: {text}")
    w.must("up to 292 MHz" not in text, "the 2nd is told 'up to 292 MHz'")
    w.must(re.search(r"1\.4[6-9]\d* ?GHz|1[45]\d\d ?MHz|1\.5\d* ?GHz", text), "the advice for the 2nd does not reach the 10th")


@case("8 planning knows resolution, {0[1]}", "range for {0[0]} at {0[1]}, mask {0[2]}", "the advised RBW is at most {0[3]:g} Hz: what it must "
      "keep apart (zero hertz and the carrier; rows of 300 Hz and 30 kHz beside it) it can",
      over=[("5W", "1.85MHz", "us-amateur", 185e3), ("5W", "137kHz", "us-amateur", 27e3), ("0.5W", "462.5625MHz", "us-frs", 30e3)])
def resolution(w, what):
    _, plan = planned(w, what[0], what[1], mask=what[2])
    sweep = plan["sweep"]
    w.say(f"RBW {sweep and sweep['rbw_hz']} Hz, {sweep and sweep['parts']} parts; unprovable {plan.get('unprovable')}")
    close = plan.get("close_sweep")  # rows beside the carrier are for the close sweep; further out a wider filter is an upper bound
    beside = close is not None and close["rbw_hz"] <= what[3]
    w.must(sweep is None or sweep["rbw_hz"] <= what[3] or beside, f"RBW {sweep and sweep['rbw_hz']:g} Hz")


def sweeps_in(value):
    """Every advised sweep anywhere in a plan."""
    if isinstance(value, dict):
        mine = [value] if "rbw_hz" in value and "start_hz" in value else []
        return mine + [s for v in value.values() for s in sweeps_in(v)]
    return [s for v in value for s in sweeps_in(v)] if isinstance(value, list) else []


@case("8 a planned sweep proves what it promised, {0[0]}", "what range advises for {0[0]}, {0[1]} is swept (a clean radio) and judged",
      "complies, without a gap", over=[("146MHz", "5W"), ("14.1MHz", "5W")])
def promise(w, what):
    f0, level = (146e6, 37.0) if what[0] == "146MHz" else (14.1e6, 37.0)
    folder, plan = planned(w, what[1], what[0])
    folder.conditions.clear()
    # the one sweep, and whatever other sweeps a plan may name beside it
    advised = sweeps_in({k: v for k, v in plan.items() if k not in ("settings", "deepest_sweep")})
    sweeps = []
    for s in advised:
        parts = s.get("parts") or 1
        span = (s["stop_hz"] - s["start_hz"]) / parts
        for i in range(parts):
            low = s["start_hz"] + i * span
            sweeps.append(Sweep(low, low + span, s["rbw_hz"], span / (s["points"] - 1), s["detector"], s["average"], s["averages"],
                                attenuation=s["attenuation_db"]))
    folder.radio(Radio(f0, level), sweeps)
    condition = folder.judge()["radios"][0]
    w.say(f"{len(sweeps)} sweeps or parts, RBW {s['rbw_hz']:g} Hz: {told(condition)}")
    w.must(condition["verdict"] == "complies" and not condition["gaps"], "not complies, or a gap")


def headroom(w, stages, power="5W"):
    folder = w.folder(chain=Chain(stages=stages))
    folder.radio(Radio(146e6, 37.0), [])
    folder.files()
    return folder.load("headroom", "bench.sheet", "--power", power, "--fundamental", "146MHz"), folder.run("headroom", "bench.sheet", "--power", power,
           "--fundamental", "146MHz"), folder.judge()


NOTCH = ("[chain]\nname=Notched\nstages=first;trap;great\ncalibrated=2026-09-12\ntemperature_c=22\n"
         "[stage first]\nkind=pad\nlabel_db=10\nrating_w=50\nvswr=1.05\npoints=1MHz 10 0.03; 3GHz 10 0.03\n"
         "[stage trap]\nkind=notch\nlabel_db=0.5\nrating_w=50\nvswr=1.1\npoints=1MHz 0.3 0.05; 140MHz 0.5 0.05; 146MHz 40 0.3; 152MHz 0.5 0.05; 3GHz 0.6 0.05\n"
         "[stage great]\nkind=pad\nlabel_db=30\nrating_w=50\nvswr=1.05\npoints=1MHz 30 0.03; 3GHz 30 0.03\n")


@case("9 a fault that puts the notch first", "pad 10 dB, notch 40 dB, pad 30 dB, 5 W: safe as drawn; with the pad left out, or the two "
      "swapped, the radio sees the notch itself, return loss 0 dB",
      "judge or headroom cautions of it (a code, or the word return loss, notch first, back to the radio)")
def notch_first(w):
    data, text, judged = headroom(w, NOTCH)
    faults = [f for f in data["faults"] if "trap" in f["stages"] or f["worst_node"] == "trap" or f["stages"] == ["first"]]
    warnings = data.get("warnings", []) + judged["warnings"] + judged["radios"][0]["warnings"]
    said = [x["text"] for x in warnings if x["code"] != "fault" or re.search("return|reflect|back|notch first", x["text"])]
    said = [t for t in said if re.search("return|reflect|back|notch", t, re.I)]
    inside = bool(re.search(r"return loss|reflect|thrown? back|back to the radio|notch (stands )?first", text, re.I))
    w.say(f"faults {[(f['what'], f['worst_node'], round(f['headroom_db'], 1)) for f in faults][:3]}; warnings {[x['code'] for x in data.get('warnings', [])]}; "
          f"said: {said[:1] or inside}")
    w.must(said or inside, "no caution")
    w.must(any(f["headroom_db"] is not None and f["headroom_db"] < 0 or f.get("return_loss_db") is not None for f in faults) or said or inside,
           "the fault shows headroom to spare")


@case("9 a directional pad reversed", "a directional 30 dB pad first, another pad behind: reversed it takes the power at its wrong end",
      "the fault is among those cautioned, though it is not the worst by headroom")
def reversed_pad(w):
    text = pads([("great", 30, 200, "power_coefficient=0\ndirectional=yes\n"), ("small", 10, 2)])
    data, table, judged = headroom(w, text)
    fault = [f for f in data["faults"] if f["kind"] == "reversed"]
    warnings = data.get("warnings", []) + judged["warnings"] + judged["radios"][0]["warnings"]
    said = [x for x in warnings if re.search("revers|turned round|wrong way|backwards", x["text"], re.I)] or re.search("revers|turned round|wrong way", table,
           re.I)
    w.say(f"fault {fault and {k: fault[0][k] for k in ('what', 'worst_node', 'headroom_db')}}; cautioned: {bool(said)}")
    w.must(fault, "not listed as a fault")
    w.must([x for x in warnings if re.search("revers|turned round|wrong way|backwards", x["text"], re.I)], "no caution of it")
