"""Benches made for the window's tests: twelve radios in two bands, and one radio in 27 conditions. Levels are stated here, names are invented."""
import math
import os
import random

ROOT = os.environ.get("SP_SOURCE_ROOT") or os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
LOSS_DB = 40.6  # of samples/club.chain, nearly
# name, carrier in MHz, dBm at the socket, harmonics {order: dBm}, mean noise in dBm at the socket
TWELVE = [
    ("Farlith", 146.5, 36.8, {2: -9.6, 3: -19.4, 5: -31.0}, -47),
    ("Jundrith", 145.3, 36.0, {2: -31.0, 3: -13.9, 4: -34.0}, -47),
    ("Bostwith", 146.1, 33.0, {2: -16.3, 3: -27.0, 5: -33.0}, -47),
    ("Holvern", 147.2, 36.5, {}, -22),
    ("Dellorick", 145.9, 36.2, {2: -20.8, 3: -25.5}, -47),
    ("Corvane 1", 144.8, 36.4, {2: -20.9, 3: -27.5}, -47),
    ("Corvane 2", 144.8, 36.1, {2: -19.1, 3: -26.2}, -47),
    ("Corvane 3", 144.8, 36.2, {2: -22.4, 3: -25.6}, -47),
    ("Gandreth", 146.9, 33.0, {2: -29.0, 3: -23.4, 4: -30.5}, -47),
    ("Abrovel", 145.6, 36.6, {2: -26.2, 4: -33.5}, -47),
    ("Embrose", 144.6, 33.4, {2: -30.6, 3: -28.8}, -47),
    ("Istrane", 147.7, 30.2, {}, -47),
]
UHF = [("Quarvel", 433.2, 36.0, {2: -24.0}, -46), ("Selmoor", 438.7, 34.0, {2: -31.0, 3: -36.0}, -46), ("Tarnwick", 434.9, 33.0, {}, -46)]
BANDS = [(1.85, "160 m"), (3.65, "80 m"), (7.1, "40 m"), (10.12, "30 m"), (14.2, "20 m"), (18.1, "17 m"), (21.2, "15 m"), (24.94, "12 m"), (28.5, "10 m")]
POWERS = [(5, 37.0), (25, 44.0), (100, 50.0)]
ANALYZER = "[analyzer]\nname=Made analyzer\ndamage_dbm=30\nbest_mixer_dbm=-20\ndanl_dbm_hz=9kHz -140; 3GHz -138\nsecond_intercept_dbm=80\n" \
    "third_harmonic_intercept_dbm=60\naccuracy_db=0.3\nflatness_db=0.2\nattenuator_steps_db=0;10;20;30\nphase_noise_dbc_hz=10kHz -110; 1MHz -135\n"


MASK = "[mask]\nname=Made limit\nauthority=none\nclause=our own\nedition=2026\nharmonics=10\n[rule 1]\nfundamental=1MHz 225MHz\npower_w=0 inf\n" \
    "emission=10kHz 3GHz\nattenuation_db=%g\nceiling_dbm=%g\n"


def mw(dbm):
    return 10 ** (dbm / 10)


def write_sweep(path, start_mhz, stop_mhz, points, lines, noise_dbm, seed, rbw_khz=30, attenuation=20):
    """lines: {MHz: dBm at the socket}; each stands in the nearest point."""
    chance = random.Random(seed)
    step = (stop_mhz - start_mhz) / (points - 1)
    levels = [mw(noise_dbm) * (chance.random() + chance.random() + 0.05) for _ in range(points)]
    for frequency, level in lines.items():
        middle = (frequency - start_mhz) / step
        for k in range(max(0, math.floor(middle) - 3), min(points, math.floor(middle) + 5)):
            away_khz = (k - middle) * step * 1e3
            levels[k] += mw(level - 12.04 * (away_khz / rbw_khz) ** 2)
    with open(path, "w", encoding="utf-8") as file:
        file.write("# RBW %g kHz\n# VBW %g kHz\n# Attenuation %g dB\n# Detector peak\n# Reference 0 dBm\nfrequency [MHz],level [dBm]\n"
                   % (rbw_khz, 3 * rbw_khz, attenuation))
        for k, level in enumerate(levels):
            file.write("%.6f,%.2f\n" % (start_mhz + k * step, 10 * math.log10(level) - LOSS_DB))


def sheet(folder, title, radios, attenuation_db, ceiling_dbm):
    path = os.path.join(folder, "made.sheet")
    with open(os.path.join(folder, "made.analyzer"), "w", encoding="utf-8") as file:
        file.write(ANALYZER)
    with open(os.path.join(folder, "made.mask"), "w", encoding="utf-8") as file:
        file.write(MASK % (attenuation_db, ceiling_dbm))
    with open(os.path.join(ROOT, "samples", "club.chain"), encoding="utf-8") as chain:
        with open(os.path.join(folder, "made.chain"), "w", encoding="utf-8") as file:
            file.write(chain.read())
    with open(path, "w", encoding="utf-8") as file:
        file.write("[bench]\ntitle=%s\ndate=2026-12-05\nchain=made.chain\nanalyzer=made.analyzer\nmask=made.mask\nrule=guarded\ntemperature_c=21\n"
                   "necessary_bandwidth=16kHz\nmodulation=none\nradio_vswr=1.5\nradio_harmonic_vswr=inf\n\n" % title)
        file.write("\n".join(radios))
    return path


def twelve(folder, points=15001, uhf=True):
    """Twelve radios on 2 m and, if asked for, three on 70 cm; the path of their sheet."""
    radios = []
    for seed, (name, carrier, power, harmonics, noise) in enumerate(TWELVE + (UHF if uhf else [])):
        file = name.replace(" ", "-").lower() + ".csv"
        stop = 1530 if carrier < 200 else 4500
        lines = {carrier: power, **{order * carrier: level for order, level in harmonics.items()}}
        write_sweep(os.path.join(folder, file), 30 if stop < 2000 else 300, stop, points, lines, noise, seed, 100 if stop < 2000 else 300)
        radios.append("[radio %s]\n[condition %s/%s]\nfundamental=%gMHz\nrated_w=5\nmode=FM\nkeyed=%s\n"
                      % (name, name, "2 m" if carrier < 200 else "70 cm", carrier, file))
    return sheet(folder, "Two bands, twelve radios", radios, 40, -16.0206)


def one_radio(folder, points=5001):
    """One radio on nine bands at three powers each; the path of its sheet."""
    conditions = ["[radio Vellmarch]\n"]
    for seed, (carrier, band) in enumerate(BANDS):
        for watts, power in POWERS:
            file = "%s-%d.csv" % (band.replace(" ", ""), watts)
            lines = {carrier: power, 2 * carrier: power - 52 - seed, 3 * carrier: power - 47 - seed}
            write_sweep(os.path.join(folder, file), 0.1, 400, points, lines, -45, seed * 10 + watts, 30 if points > 20000 else 100, 30)
            conditions.append("[condition Vellmarch/%s %d W]\nfundamental=%gMHz\nrated_w=%d\nmode=CW\nnecessary_bandwidth=500Hz\nkeyed=%s\n"
                              % (band, watts, carrier, watts, file))
    return sheet(folder, "One radio, nine bands", conditions, 43, 10)
