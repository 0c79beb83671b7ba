"""A small bench in files, for the command-line tests: one 2 m transmitter with a second harmonic, seen through two pads."""
import math
import os
import random

CHAIN = """[chain]
name=Short
stages=power-pad;small-pad
calibrated=2026-09-12
interval_days=730
temperature_c=22

[stage power-pad]
kind=pad
label_db=30
rating_w=25
vswr=1.10
points=50MHz 30.02 0.03; 500MHz 30.10 0.03; 1600MHz 30.31 0.05
connector_u_db=0.02
power_coefficient=0.0005

[stage small-pad]
kind=pad
label_db=10
rating_w=2
vswr=1.12
points=50MHz 9.98 0.03; 500MHz 10.02 0.03; 1600MHz 10.11 0.05
power_coefficient=0.0005
"""
ANALYZER = """[analyzer]
name=Bench analyzer
damage_dbm=20
best_mixer_dbm=-30
danl_dbm_hz=10MHz -150; 3GHz -145
second_intercept_dbm=60
third_harmonic_intercept_dbm=40
phase_noise_dbc_hz=10kHz -95; 1MHz -130
accuracy_db=0.5
flatness_db=0.3
scale_db=0.2
repeatability_db=0.05
attenuator_switch_db=0.3
rbw_switch_db=0.1
vswr=1.3
filter=gaussian
"""
MASK = """[mask]
name=House limit
clause=our own
edition=2026
harmonics=10
exclude=0.5

[rule 1]
fundamental=30MHz 225MHz
power_w=0 25
emission=30MHz 3GHz
attenuation_db=40
ceiling_dbm=-16.0206
relief_dbm=-20
"""
SHEET = """[bench]
title=Two pads
date=2026-10-03
chain=bench.chain
analyzer=bench.analyzer
mask=house.mask
temperature_c=22
necessary_bandwidth=16kHz
radio_vswr=1.5
radio_harmonic_vswr=1.5

[radio Plendour]
fundamental=146MHz
rated_w=5
keyed=plendour.csv

[radio Quernish]
serial=0042

[condition Quernish/2 m low]
fundamental=146MHz
rated_w=0.5
keyed=quernish.csv
step=quernish-step.csv 10

[condition Quernish/2 m high]
fundamental=146MHz
rated_w=5
keyed=plendour.csv
"""
RBW, STEP, FROM, TO = 100e3, 50e3, 100e6, 1500e6


def trace(lines, attenuation, seed, wider=1):
    """A positive-peak sweep: `lines` of (Hz, dBm at the analyzer), noise at -85 dBm, a Gaussian filter; RBW and spacing `wider` times theirs."""
    rbw, step = RBW * wider, STEP * wider
    random.seed(seed)
    rows = [f"Center Frequency,{(FROM + TO) / 2:.0f},Hz", f"RBW,{rbw / 1e3:.0f},kHz", f"Attenuation,{attenuation},dB",
            "Detector,Positive Peak", "Reference Level,10,dBm", "", "Frequency (Hz),Level (dBm)"]
    for i in range(int((TO - FROM) / step) + 1):
        f = FROM + i * step
        power = 10 ** -8.5 * -math.log(1 - random.random())
        for place, level in lines:
            power += 10 ** ((level - 12.0412 * ((f - place) / rbw) ** 2) / 10)
        rows.append(f"{f:.0f},{10 * math.log10(power):.2f}")
    return "\n".join(rows) + "\n"


def write(folder):
    """All the files into `folder`; returns it."""
    files = {
        "bench.chain": CHAIN, "bench.analyzer": ANALYZER, "house.mask": MASK, "bench.sheet": SHEET,
        "plendour.csv": trace([(146e6, -3.0), (292e6, -63.0)], 10, 1),
        "quernish.csv": trace([(146e6, -13.0), (292e6, -40.0)], 10, 2),
        "quernish-step.csv": trace([(146e6, -13.0), (292e6, -40.0)], 20, 3),
    }
    for name, text in files.items():
        with open(os.path.join(folder, name), "w", encoding="utf-8") as file:
            file.write(text)
    return folder
