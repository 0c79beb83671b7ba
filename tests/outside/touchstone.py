#!/usr/bin/python3
"""Makes tests/outside/touchstone.txt: files of random S-parameters, and what they are in 50 ohm. 
Needs the packages python3-scikit-rf (0.15.4) and ngspice (39.3); the test itself needs neither.

    /usr/bin/python3 tests/outside/touchstone.py > tests/outside/touchstone.txt

    case SOURCE PORTS       then the file's lines, each behind `|`, and a line `row f re im ...` (S11 S21 S12 S22, in 50 ohm) for each point
    ladder                  then `a`, `b`, `c` (the parts) and `whole`, each with its lines `row ...`, from one circuit simulation each
"""
import contextlib
import io
import subprocess
import sys
import tempfile
import warnings

import numpy

numpy.complex, numpy.float = complex, float  # what 0.15.4 still asks of it
warnings.simplefilter("ignore")
with contextlib.redirect_stdout(io.StringIO()):
    import skrf

random = numpy.random.default_rng(1502)


def rows(network):
    ports = network.nports
    places = [(0, 0)] if ports == 1 else [(0, 0), (1, 0), (0, 1), (1, 1)]
    for f, s in zip(network.f, network.s):
        print("row", repr(float(f)), *(repr(float(part)) for i, k in places for part in (s[i, k].real, s[i, k].imag)))


def case(source, ports, lines, network):
    print("case", source.replace(" ", "_"), ports)
    for line in lines:
        print("|" + line)
    rows(network)


def spelled(value, form):
    if form == "RI":
        return "%.15g %.15g" % (value.real, value.imag)
    size = abs(value)
    return "%.15g %.15g" % (20 * numpy.log10(size) if form == "DB" else size, numpy.degrees(numpy.angle(value)))


def written(ports, unit, scale, form, ohm):
    """Parameters in other references, in each format and unit; scikit-rf takes them to 50 ohm."""
    f = numpy.sort(random.uniform(1e6, 3e9, 4))
    f = numpy.array([float("%.9g" % (x / scale)) * scale for x in f])
    s = random.uniform(-0.45, 0.45, (4, ports, ports)) + 1j * random.uniform(-0.45, 0.45, (4, ports, ports))
    places = [(0, 0)] if ports == 1 else [(0, 0), (1, 0), (0, 1), (1, 1)]
    lines = ["# %s S %s R %s" % (unit, form, " ".join("%g" % z for z in ohm))]
    for x, m in zip(f, s):
        lines.append("%.9g " % (x / scale) + " ".join(spelled(m[i, k], form) for i, k in places))
    network = skrf.Network(f=f, s=s, z0=(ohm * ports)[:ports], f_unit="Hz")
    network.renormalize(50)
    case("renormalize_%s_%s_%s" % (unit, form, "_".join("%g" % z for z in ohm)), ports, lines, network)


PARTS = {"a": "R1 in 0 96.2475\nR2 in x 71.1512\nL1 x out 2n\nR3 out 0 96.2475\n",
         "b": "O1 in 0 out 0 coax\n",
         "c": "R4 in 0 300\nR5 in y 20\nL2 y out 10n\nR6 out 0 290\n"}
MODEL = ".model coax ltra rel=1 r=0.8 g=0 l=250n c=94p len=1.7\n"


def simulate(circuit):
    names = ["s_%d_%d" % pair for pair in ((1, 1), (2, 1), (1, 2), (2, 2))]
    prints = "".join("print real(%s) imag(%s)\n" % (name, name) for name in names)
    text = ("* ladder\nV1 in 0 dc 0 ac 1 portnum 1 z0 50\nV2 out 0 dc 0 ac 0 portnum 2 z0 50\n" + circuit + MODEL
            + ".control\nset numdgt=14\nsp lin 34 10meg 1000meg\n" + prints + "quit\n.endc\n.end\n")
    with tempfile.NamedTemporaryFile("w", suffix=".cir") as file:
        file.write(text)
        file.flush()
        out = subprocess.run(["ngspice", "-b", file.name], capture_output=True, text=True, check=False).stdout
    tables = {}
    for line in out.splitlines():
        words = line.split()
        if len(words) == 4 and words[0].isdigit():
            tables.setdefault(float(words[1]), []).extend(words[2:])
    return tables


def ladder():
    print("ladder sp_of_pad,_lossy_line_and_pad")
    whole = (PARTS["a"].replace(" out", " m1") + PARTS["b"].replace(" in ", " m1 ").replace(" out ", " m2 ")
             + PARTS["c"].replace(" in ", " m2 "))
    for name, circuit in list(PARTS.items()) + [("whole", whole)]:
        print(name)
        for f, parts in simulate(circuit).items():
            print("row", repr(f), *parts)


for unit, scale in (("Hz", 1.0), ("kHz", 1e3), ("MHz", 1e6), ("GHz", 1e9)):
    for form in ("RI", "MA", "DB"):
        written(2, unit, scale, form, [75.0] if form == "RI" else [50.0, 25.0] if form == "MA" else [10.0, 300.0])
        written(1, unit, scale, form, [75.0])
ladder()
sys.stdout.flush()
