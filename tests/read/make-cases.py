#!/usr/bin/env python3
"""Writes tests/read/good and tests/read/bad: what the reader of traces must understand, and what it must refuse.

The truth stands here: frequencies in Hz and levels in dBm are computed in Python from what each layout is made of, never by the
reader; README.md counts the cases by what they are about. All layouts are invented. A good folder holds `input`, `expected.json` and, where the file is named with options, `options`;
a bad one `input`, `options` and `expected.txt`: its first line is the place that the message must begin with, each other line
a piece that must occur in it. Run it again after a change; the folders are kept under version control.
"""
import json
import math
import os
import shutil
import struct

HERE = os.path.dirname(os.path.abspath(__file__))
ROW = [(100e6, -20.5), (101e6, -21.25), (102e6, -79.0), (103e6, -80.75)]


def dbm_from_dbuv(v):
    return v - 90 - 10 * math.log10(50)


SECTIONS = {}
section = ""


def about(what):
    """The cases that follow are about this: for the table in README.md."""
    global section
    section = what
    SECTIONS.setdefault(what, {"good": 0, "bad": 0})


def write(kind, name, content, files):
    SECTIONS[section][kind] += 1
    folder = os.path.join(HERE, kind, name)
    os.makedirs(folder)
    with open(os.path.join(folder, "input"), "wb") as out:
        out.write(content if isinstance(content, bytes) else content.encode("utf-8"))
    for file, text in files.items():
        if text is not None:
            with open(os.path.join(folder, file), "w", encoding="utf-8", newline="\n") as out:
                out.write(text)


def good(name, content, points=ROW, options=None, warnings=(), traces=None, **settings):
    """`points`: (Hz, dBm) ascending. `settings`: as in the JSON of `read`; one not given must be unknown."""
    one = lambda column, pts, s: dict({"points": len(pts), "first_hz": pts[0][0], "last_hz": pts[-1][0],
                                       "at": [[i, f, l] for i, (f, l) in enumerate(pts)], "warnings": sorted(warnings)},
                                      **({"column": column} if column else {}), **s)
    listed = traces or [(None, points)]
    write("good", name, content, {"options": options, "expected.json": json.dumps(
        {"traces": [one(c, p, settings) for c, p in listed]}, indent=1, ensure_ascii=False) + "\n"})


def bad(name, content, place, *pieces, options=None):
    write("bad", name, content, {"options": options, "expected.txt": "\n".join((place,) + pieces) + "\n"})


def rows(separator=",", f="%.0f", level="%.2f", scale=1.0, comma=False, end="\n", points=ROW):
    text = "".join(f % (hz / scale) + separator + level % dbm + end for hz, dbm in points)
    return text.replace(".", ",") if comma else text


def good_cases():
    head = "Frequency (Hz),Level (dBm)\n"
    about("delimiters, quotes, layout of rows")
    good("comma-point", head + rows())
    good("semicolon-comma", "Frequenz [MHz];Pegel [dBm]\n" + rows(";", "%.3f", scale=1e6, comma=True))
    good("semicolon-point", "Frequency [kHz];Level [dBm]\n" + rows(";", scale=1e3))
    good("tab-comma", "Frequenz / MHz\tPegel / dBm\n" + rows("\t", "%.1f", scale=1e6, comma=True))
    good("blanks", "  Frequency (GHz)   Level (dBm)\n" + "".join("   %.3f     %8.2f\n" % (f / 1e9, l) for f, l in ROW))
    about("delimiters, quotes, layout of rows")
    good("blanks-comma", rows("  ", "%.1f", scale=1e6, comma=True), options="frequency_unit=MHz&unit=dBm")
    about("frequencies: order, unit, which column")
    good("no-header-hz", rows(), warnings=["unit-assumed", "unit-assumed"])
    about("encodings and line ends")
    good("crlf", (head + rows()).replace("\n", "\r\n"))
    good("cr", (head + rows()).replace("\n", "\r"))
    good("no-last-line-end", (head + rows()).rstrip("\n"))
    good("bom", "\ufeff" + head + rows())
    good("utf16-le", ("\ufeff" + head + rows()).encode("utf-16-le"))
    good("utf16-be", ("\ufeff" + head + rows()).encode("utf-16-be"))
    good("latin1", ("Eingangsdämpfung;20 dB\nFrequenz [Hz];Pegel [dBm]\n" + rows(";", comma=True)).encode("latin-1"), attenuation_db=20)
    about("delimiters, quotes, layout of rows")
    good("quoted", '"Frequency (Hz)","Level (dBm)"\n' + "".join('"%.0f","%.2f"\n' % p for p in ROW))
    good("quoted-decimal-comma", '"Frequency (MHz)","Level (dBm)"\n' + "".join(('"%.3f"~"%.2f"\n' % (f / 1e6, l)).replace(".", ",").replace("~", ",") for f, l in ROW))
    good("quoted-decimal-comma-settings", "Sweep time,0,125 s\nRBW: 2,5 kHz\n" + '"Frequency (MHz)","Level (dBm)"\n'
         + "".join(('"%.3f"~"%.2f"\n' % (f / 1e6, l)).replace(".", ",").replace("~", ",") for f, l in ROW), sweep_time_s=0.125, rbw_hz=2500)
    good("quoted-note-with-rows", 'Note,"first line\n1,2\n3,4\n5,6\n""quoted"" end"\n' + head + rows())
    about("numbers: decimal marks, thousands, exponents")
    good("thousands", "Frequency (kHz);Level (dBm)\n" + "".join("{:,.1f};{:.2f}\n".format(f / 1e3, l) for f, l in ROW))
    good("thousands-point", "Frequenz (Hz);Pegel (dBm)\n" + "".join("{:,.0f};{:.2f}\n".format(f, l).replace(".", "c").replace(",", ".").replace("c", ",") for f, l in ROW))
    good("thousands-apostrophe", "Frequency (Hz);Level (dBm)\n" + "".join("{:,.0f};{:.2f}\n".format(f, l).replace(",", "'") for f, l in ROW))
    good("three-decimals", "Frequency (MHz);Level (dBm)\n" + "".join("%.3f;%.3f\n" % (f / 1e6, l) for f, l in ROW))
    good("mark-late", "Frequency (MHz);Level (dBm)\n" + "".join("%d;-%d\n" % (100 + i, 20 + i % 3) for i in range(50)) + "150,5;-30,5\n",
         points=[((100 + i) * 1e6, -(20.0 + i % 3)) for i in range(50)] + [(150.5e6, -30.5)])
    good("exponents", "Frequency (Hz),Level (dBm)\n" + "".join("%.6E,%.4e\n" % p for p in ROW))
    good("fortran-exponents", "Frequency (Hz)  Level (dBm)\n" + "".join(("%.6E  %.4E\n" % p).replace("E", "D") for p in ROW))
    good("minus-sign", head + rows().replace(",-", ",\u2212"))
    about("frequencies: order, unit, which column")
    good("descending", head + rows(points=ROW[::-1]), warnings=["order-reversed"])
    good("level-first", "Level (dBm),Frequency (Hz)\n" + "".join("%.2f,%.0f\n" % (l, f) for f, l in ROW))
    good("level-first-no-header", "".join("%.2f,%.0f\n" % (l, f) for f, l in ROW), warnings=["unit-assumed", "unit-assumed"])
    good("index-column", "Point,Frequency (Hz),Level (dBm)\n" + "".join("%d,%.0f,%.2f\n" % (i, f, l) for i, (f, l) in enumerate(ROW)))
    good("index-no-header", "".join("%d;%.0f;%.2f\n" % (i + 1, f, l) for i, (f, l) in enumerate(ROW)), warnings=["frequency-decided", "unit-assumed", "unit-assumed"])
    about("delimiters, quotes, layout of rows")
    good("text-column", "Frequency (Hz);Level (dBm);State\n" + "".join("%.0f;%.2f;ok\n" % p for p in ROW))
    good("trailing-delimiter", "Frequency (Hz);Level (dBm);\n" + "".join("%.0f;%.2f;\n" % p for p in ROW))
    good("units-line", "Frequency;Level\nMHz;dBm\n" + rows(";", "%.2f", scale=1e6))
    good("header-commented", "# taken on the bench\n# Frequency (Hz), Level (dBm)\n" + rows(", "))
    about("comments, blocks and notes behind the rows")
    good("comments-inside", head + rows(points=ROW[:2]) + "# half way\n! and on\n\n" + rows(points=ROW[2:]))
    about("delimiters, quotes, layout of rows")
    good("units-in-names", "freq_mhz,level_dbm\n" + rows(",", "%.2f", scale=1e6))
    about("limits and hostile files")
    good("levels-at-the-limit", head + rows(level="%.0f", points=[(1e6, -400), (2e6, 400), (1e15, 0)]), points=[(1e6, -400.0), (2e6, 400.0), (1e15, 0.0)])
    about("comments, blocks and notes behind the rows")
    good("trailing-block", head + rows() + "\nMarkers\n1,101000000\n2,102000000\n", warnings=["trailing-block"])
    good("trailing-text", head + rows() + "End of data\n", warnings=["trailing-block"])
    about("frequencies: order, unit, which column")
    good("frequency-unit-by-start", "Start: 100 MHz\nStop: 103 MHz\nUnit: dBm\n\n" + rows(" ", "%.1f", scale=1e6))
    good("frequency-unit-option", rows("\t", "%.1f", scale=1e6), options="frequency_unit=MHz&unit=dBm")
    about("level units")
    unit = lambda name, title, value, dbm, **k: good(name, "Frequency (Hz);Level (%s)\n" % title + "".join("%.0f;%s\n" % (f, v) for (f, _), v in zip(ROW, value)),
                                                     points=[(f, dbm(float(v))) for (f, _), v in zip(ROW, value)], **k)
    unit("dbuv", "dB\u00b5V", ["87.0", "86.1", "28.2", "30"], dbm_from_dbuv, level_unit_read="dBuV")
    unit("dbuv-greek", "dB\u03bcV", ["87.0", "86.1", "28.2", "30"], dbm_from_dbuv, level_unit_read="dBuV")
    unit("dbmv", "dBmV", ["27.0", "26.1", "-31.8", "-30"], lambda v: v - 30 - 10 * math.log10(50), level_unit_read="dBmV")
    unit("volt", "V", ["0.2236067977", "1e-3", "2.5E-6", "1"], lambda v: 10 * math.log10(v * v / 50 * 1000), level_unit_read="V")
    unit("microvolt", "\u00b5V", ["223606.7977", "1000", "2.5", "1"], lambda v: 10 * math.log10((v * 1e-6) ** 2 / 50 * 1000), level_unit_read="V")
    unit("watt", "W", ["1", "0.001", "2e-9", "3e-12"], lambda v: 10 * math.log10(v * 1000), level_unit_read="W")
    unit("milliwatt", "mW", ["1", "0.001", "2e-9", "3e-12"], lambda v: 10 * math.log10(v), level_unit_read="W")
    unit("unit-option", "arbitrary/m", ["87.0", "86.1", "28.2", "30"], dbm_from_dbuv, options="unit=dBuV", level_unit_read="dBuV")

    about("preamble: six languages, units in key, value, line")
    full = dict(rbw_hz=10e3, vbw_hz=30e3, reference_dbm=-10, attenuation_db=15, detector="rms", sweep_time_s=0.125, averages=16, average="power")
    good("preamble-english", "Center Frequency,101.5,MHz\nSpan,3,MHz\nRes BW,10,kHz\nVideo BW,30,kHz\nRef Level,-10,dBm\nAttenuation,15,dB\n"
         "Detector,RMS\nAverage Type,Power\nAverages,16\nSweep Time,125,ms\nPoints,4\n\n" + head + rows(), **full)
    good("preamble-german", "Mittenfrequenz;101,5 MHz\nSpanne;3 MHz\nAuflösungsbandbreite;10,0 kHz\nVideobandbreite;30,0 kHz\nReferenzpegel;-10,0 dBm\n"
         "HF-Dämpfung;15 dB\nDetektor;Effektivwert\nMittelungsart;Leistung\nMittelungen;16\nAblaufzeit;125,0 ms\nMesspunkte;4\n"
         "Frequenz [Hz];Pegel [dBm]\n" + rows(";", comma=True), **full)
    good("preamble-french", "Fréquence centrale : 101,5 MHz\nBande de résolution : 10 kHz\nBande vidéo : 30 kHz\nNiveau de référence : -10 dBm\nAtténuation d'entrée : 15 dB\n"
         "Détecteur : efficace\nType de moyenne : puissance\nNombre de moyennes : 16\nTemps de balayage : 125 ms\nFréquence (MHz)\tNiveau (dBm)\n" + rows("\t", "%.2f", scale=1e6, comma=True), **full)
    good("preamble-spanish", "Ancho de banda de resolución;10 kHz\nAncho de banda de vídeo;30 kHz\nNivel de referencia;-10 dBm\nAtenuación;15 dB\nDetector;valor eficaz\n"
         "Tipo de promedio;potencia\nPromedios;16\nTiempo de barrido;125 ms\nFrecuencia (Hz);Nivel (dBm)\n" + rows(";", comma=True), **full)
    good("preamble-italian", "Banda di risoluzione;10 kHz\nBanda video;30 kHz\nLivello di riferimento;-10 dBm\nAttenuazione;15 dB\nRivelatore;valore efficace\n"
         "Tipo di media;potenza\nNumero di medie;16\nTempo di scansione;125 ms\nFrequenza (Hz);Livello (dBm)\n" + rows(";", comma=True), **full)
    good("preamble-japanese", "中心周波数,101.5 MHz\nスパン,3 MHz\n分解能帯域幅,10 kHz\nビデオ帯域幅,30 kHz\n基準レベル,-10 dBm\n減衰量,15 dB\n検波,実効値\n"
         "平均方式,電力平均\n平均回数,16\n掃引時間,125 ms\n測定点数,4\n周波数 (Hz),レベル (dBm)\n" + rows(), **full)
    good("preamble-japanese-wide", "ＲＢＷ：10 kHz\nビデオ帯域：自動 30 kHz\nリファレンスレベル（dBm）：-10\nアッテネータ（ｄＢ）：15\n検波モード：実効値\n平均方式：電力\n"
         "平均回数：16\n掃引時間：125 ms\n周波数（MHz）\tレベル（dBm）\n" + rows("\t", "%.2f", scale=1e6), **full)
    good("preamble-units-in-keys", "RBW (kHz): 10\nVBW [Hz]: 30000\nReference level (dBm) = -10\nRF attenuation (dB) = 15\nDetector = RMS\nAvg type = power\nAverage count = 16\n"
         "Sweep time (ms) = 125\n" + head + rows(), **full)
    good("preamble-words", "RBW 10 kHz\nVBW 30 kHz\nRef Level -10 dBm\nAtt 15 dB\nDetector RMS\nAverage type power\nAverages 16\nSweep time 125 ms\n" + head + rows(), **full)
    good("preamble-auto", "RBW,10 kHz (auto)\nVBW,Auto 30 kHz\nAttenuation,auto\nDetector,RMS\n" + head + rows(), rbw_hz=10e3, vbw_hz=30e3, detector="rms", warnings=["setting-ignored"])
    good("preamble-bare-hz", "RBW,10000\nDetector,Quasi-peak\n" + head + rows(), rbw_hz=10e3, detector="quasi-peak", warnings=["unit-assumed"])
    for name, text, said in (("conflict", "RBW,10 kHz\nRBW,30 kHz\n", {}), ("odd-detector", "Detector,Seventh\nTrace mode,Max hold\n", {"hold": "max"}), ("zero", "RBW,0 Hz\nAttenuation,20 dB\n", {"attenuation_db": 20}), ("zero-video", "VBW,0\n", {}), ("backwards", "Sweep time,-2 s\n", {})):
        good("preamble-" + name, text + head + rows(), warnings=["setting-ignored"], **said)
    good("preamble-long", "".join("Remark %d,nothing to see\n" % i for i in range(3000)) + "RBW,10 kHz\n" + head + rows(), rbw_hz=10e3)
    good("options-win", "RBW,10 kHz\nAttenuation,20 dB\nDetector,Peak\n" + head + rows(), options="rbw=3kHz&attenuation=30&detector=sample&average=log&averages=5&hold=min",
         rbw_hz=3e3, attenuation_db=30, detector="sample", average="log", averages=5, hold="min")
    good("reference-dbuv", "Reference level,97 dBuV\nFrequency (Hz),Level (dBuV)\n" + rows(level="%.2f", points=[(f, l + 107) for f, l in ROW]),
         points=[(f, dbm_from_dbuv(l + 107)) for f, l in ROW], reference_dbm=dbm_from_dbuv(97), level_unit_read="dBuV")

    about("levels alone, start and stop from elsewhere")
    alone = [(100e6 + i * 1e6, l) for i, (_, l) in enumerate(ROW)]
    levels = "".join("%.2f\n" % l for _, l in ROW)
    good("alone-start-stop", "Start = 100 MHz\nStop = 103 MHz\nUnit = dBm\n" + levels, points=alone)
    good("alone-center-span", "Center = 101.5 MHz\nSpan = 3 MHz\nPoints = 4\nUnit = dBm\n" + levels, points=alone)
    good("alone-options", levels, options="start=100MHz&stop=103MHz&unit=dBm", points=alone)
    good("alone-decimal-comma", "Startfrequenz: 100 MHz\nStoppfrequenz: 103 MHz\nEinheit: dBm\n" + levels.replace(".", ","), points=alone, warnings=["decimal-decided"])
    good("alone-index", "Start,100 MHz\nStop,103 MHz\nPoint,Level (dBm)\n" + "".join("%d,%.2f\n" % (i + 1, l) for i, (_, l) in enumerate(ROW)), points=alone)

    about("several columns, several tables")
    two = "Frequency (Hz),Keyed (dBm),Max hold (dBm)\n" + "".join("%.0f,%.2f,%.2f\n" % (f, l, l + 1) for f, l in ROW)
    good("two-columns", two, traces=[("Keyed", ROW), ("Max hold", [(f, l + 1) for f, l in ROW])])
    good("column-by-number", two, options="column=2", traces=[("Keyed", ROW)], warnings=["column-chosen"])
    good("column-by-name", two, options="column=max%20hold", traces=[("Max hold", [(f, l + 1) for f, l in ROW])], warnings=["column-chosen"], hold="max")
    up = [(f, l + 1) for f, l in ROW]
    stacked = [("Level", ROW), ("Level (2)", up)]
    good("stacked-header-again", head + rows() + "\n" + head + rows(points=up), traces=stacked)
    good("stacked-header-again-no-blank", head + rows() + head + rows(points=up), traces=stacked)
    good("stacked-blank", head + rows() + "\n\n" + rows(points=up), traces=stacked)
    good("stacked-titles", "RBW,10 kHz\nTrace A\n" + head + rows() + "\nTrace B\n" + head + rows(points=up), traces=stacked, rbw_hz=10e3)
    good("stacked-other-range", head + rows() + head + rows(points=[(f - 50e6, l) for f, l in ROW]),
         traces=[("Level", ROW), ("Level (2)", [(f - 50e6, l) for f, l in ROW])])
    good("stacked-descending", head + rows(points=ROW[::-1]) + "\n" + rows(points=up[::-1]), traces=stacked, warnings=["order-reversed"])
    good("stacked-units", "Frequency (MHz);Level (dBm)\n" + rows(";", "%.3f", scale=1e6, comma=True) + "\nFrequency (MHz);Level (mW)\n"
         + "".join("%.1f;%s\n" % (f / 1e6, "1") for f, _ in ROW).replace(".", ","),
         traces=[("Level", ROW)], options="table=1")
    good("stacked-columns", "".join("Frequency (Hz),Keyed (dBm),Idle (dBm)\n" + "".join("%.0f,%.2f,%.2f\n" % (f, l + k, l - 1) for f, l in ROW) for k in (0, 1)),
         traces=[("Keyed", ROW), ("Idle", [(f, l - 1) for f, l in ROW]), ("Keyed (2)", up), ("Idle (2)", [(f, l - 1) for f, l in ROW])])
    good("stacked-table-option", head + rows() + "\n" + head + rows(points=up), options="table=2", traces=[("Level (2)", up)])
    good("stacked-three", (head + rows() + "\n") * 3, traces=[("Level", ROW), ("Level (2)", ROW), ("Level (3)", ROW)])
    about("comments, blocks and notes behind the rows")
    good("header-again", head + rows(points=ROW[:2]) + head + rows(points=ROW[2:]))
    good("header-again-units-line", "Frequency;Level\nMHz;dBm\n" + rows(";", "%.2f", scale=1e6, points=ROW[:2]) + "\nFrequency;Level\nMHz;dBm\n"
         + rows(";", "%.2f", scale=1e6, points=ROW[2:]))
    about("rows that do not parse")
    good("bad-skip-in-one-column", "Frequency (Hz),A (dBm),B (dBm)\n" + "".join("%.0f,%.2f,%s\n" % (f, l, "---" if i == 1 else "%.2f" % (l - 1)) for i, (f, l) in enumerate(ROW)),
         options="bad=skip&column=2", traces=[("A", ROW)], warnings=["column-chosen"])
    good("bad-skip", head + rows(points=ROW[:2]) + "101500000,oops\n101600000,NaN\n" + rows(points=ROW[2:]), options="bad=skip", warnings=["lines-skipped"], skipped_lines=2)

    about("blocks (IEEE 488.2) and lists")
    values = [l for _, l in ROW]
    block = lambda kind: struct.pack(kind + "%df" % len(values), *values)
    sweep = "start=100MHz&stop=103MHz&unit=dBm"
    good("block-real32-big", b"#216" + block(">") + b"\n", options="format=real32&" + sweep, points=alone)
    good("block-real32-little", b"#216" + block("<"), options="format=real32&order=little&" + sweep, points=alone)
    good("block-real64", b"#232" + struct.pack(">4d", *values), options="format=real64&" + sweep, points=alone)
    good("block-indefinite", b"#0" + block(">") + b"\n", options="format=real32&" + sweep, points=alone)
    good("block-ascii", ("#226" + "-20.5,-2.125E1,-79,-80.75,\n")[:31] + "\n", options="format=ascii&" + sweep, points=alone)
    good("list-ascii", "-20.5, -2.125E1, -79, -80.75\n", options="format=ascii&" + sweep, points=alone)


def bad_cases():
    head = "Frequency (Hz),Level (dBm)\n"
    five = head + rows()
    about("limits and hostile files")
    bad("empty", "", "input:", "empty")
    bad("blank-lines", "\n \n\n", "input:1:", "no rows of numbers")
    bad("prose", "This is a letter.\nIt has no table.\n", "input:1:", "no rows of numbers")
    bad("binary", b"Frequency,Level\n1,2\n\x00\x01\x02\xff", "input:3:1:", "0x00")
    about("encodings and line ends")
    bad("utf16-no-bom", five.encode("utf-16-le"), "input:1:2:", "0x00")
    bad("odd-utf16", ("\ufeff" + five).encode("utf-16-le")[:-1], "input:", "UTF-16")
    about("delimiters, quotes, layout of rows")
    bad("header-only", head, "input:1:", "no rows of numbers")
    bad("one-row", head + rows(points=ROW[:1]), "input:2:", "one row")
    about("rows that do not parse")
    bad("text-in-number", head + rows(points=ROW[:2]) + "101500000,-2O.5\n" + rows(points=ROW[2:]), "input:4:11:", "‘-2O.5’", "?bad=skip")
    bad("text-first-row", head + "99000000,oops\n" + rows(), "input:2:10:", "‘oops’")
    bad("text-first-row-no-header", "99000000,oops\n" + rows(), "input:1:10:", "‘oops’")
    bad("text-as-frequency", head + "oops,-20\n" + rows(), "input:2:1:", "‘oops’")
    bad("nan", head + rows(points=ROW[:2]) + "101500000,NaN\n" + rows(points=ROW[2:]), "input:4:11:", "‘NaN’")
    bad("infinity", head + rows() + "104000000,-inf\n", "input:6:11:", "‘-inf’")
    bad("overflow", head + rows() + "104000000,1e999\n", "input:6:11:", "‘1e999’")
    bad("scpi-nan", head + rows() + "104000000,9.91E37\n", "input:6:11:", "‘9.91E37’")
    bad("nan-frequency-last", head + rows() + "nan,-20\n", "input:6:1:", "‘nan,-20’")
    bad("empty-field", head + rows() + "104000000,\n", "input:6:11:", "empty field")
    bad("missing-column", head + rows(points=ROW[:2]) + "101500000\n" + rows(points=ROW[2:]), "input:4:1:", "1 fields", "expected 2")
    bad("extra-column", head + rows(points=ROW[:2]) + "101500000,-20,5\n" + rows(points=ROW[2:]), "input:4:15:", "3 fields", "expected 2")
    bad("cut-off", five[:-8] + "\n", "input:5:1:", "1 fields")
    about("frequencies: order, unit, which column")
    bad("repeated", head + rows(points=ROW[:2] + ROW[1:]), "input:4:1:", "‘101000000’", "row before")
    bad("goes-back", head + rows(points=ROW[:3] + ROW[:1] + ROW[3:]), "input:5:1:", "‘100000000’", "ascended")
    bad("goes-up", head + rows(points=ROW[:1:-1] + ROW[3:]), "input:4:1:", "‘103000000’", "descended")
    bad("negative-frequency", head + "-1000000,-20\n0,-20\n1000000,-20\n", "input:2:1:", "negative")
    about("comments, blocks and notes behind the rows")
    bad("text-among-rows", head + rows(points=ROW[:2]) + "a remark\n" + rows(points=ROW[2:]), "input:4:1:", "‘a remark’", "line 5")
    about("several columns, several tables")
    bad("second-table", head + rows() + "\n" + head + rows(), "input:8:", "2 tables", "lines 2, 8", "?table=1")
    bad("second-table-blank", head + rows() + "\n" + rows(), "input:7:", "2 tables", "?table=1")
    bad("second-table-bad-row", head + rows() + "\n" + head + rows() + "104000000,2O\n", "input:12:11:", "‘2O’", options="table=2")
    bad("table-beyond", head + rows() + "\n" + head + rows(), "input:", "?table=3", "2 tables", options="table=3")
    bad("table-option", five, "input: ?table=", "number from 1", options="table=0")
    bad("second-table-foreign-unit", head + rows() + "\nFrequency (Hz),Level (dBc)\n" + rows(), "input:7:16:", "‘dBc’", options="table=2")
    about("comments, blocks and notes behind the rows")
    bad("row-back-after-blank", head + rows(points=ROW[:3]) + "\n100500000,-20\n" + rows(points=ROW[3:]), "input:6:1:", "ascended")
    bad("header-again-and-text", head + rows(points=ROW[:2]) + head + "a remark\n" + rows(points=ROW[2:]), "input:5:1:", "‘a remark’")
    about("ambiguity: both readings named")
    bad("ambiguous-thousands", "1.234;-20\n2.345;-30\n3.456;-40\n", "input:1:1:", "two ways", "1.234", "1234", "?decimal=point", "?decimal=comma")
    bad("ambiguous-comma", "30,5\n31,6\n32,7\n", "input:1:1:", "two ways", "30 | 5", "30.5", options="start=1MHz&stop=2MHz")
    bad("four-for-two", "Frequency (MHz),Level (dBm)\n100,5,-20,5\n101,5,-21,5\n102,5,-22,5\n", "input:")
    about("frequencies: order, unit, which column")
    bad("no-unit", "100,-20\n101,-21\n102,-22\n", "input:1:", "without a unit", "?frequency_unit=")
    about("level units")
    bad("foreign-unit", "Frequency (Hz),Level (dBuV/m)\n" + rows(), "input:1:16:", "‘dBuV/m’", "?unit=")
    bad("foreign-unit-preamble", "Y unit,dBc\n" + "Frequency (Hz),Level\n" + rows(), "input:1:", "‘dBc’", "?unit=")
    about("several columns, several tables")
    bad("several-columns", "Frequency (Hz),A (dBm),B (dBm)\n" + "".join("%.0f,%.2f,%.2f\n" % (f, l, l) for f, l in ROW), "input:1:", "2 (A), 3 (B)", "?column=2")
    bad("column-unknown", head + rows(), "input:1:", "?column=9", "2 (Level)", options="column=9")
    bad("column-is-frequency", head + rows(), "input:1:", "?column=1", options="column=1")
    bad("two-frequencies", "F1 (Hz),L1 (dBm),F2 (Hz),L2 (dBm)\n" + "".join("%.0f,%.2f,%.0f,%.2f\n" % (f, l, f, l) for f, l in ROW), "input:1:18:", "second frequency")
    about("ambiguity: both readings named")
    bad("which-is-frequency", "1,10\n2,20\n3,31\n", "input:1:")
    about("levels alone, start and stop from elsewhere")
    bad("alone-no-sweep", "-20\n-21\n-22\n", "input:1:", "?start=")
    bad("alone-points-differ", "Start,100 MHz\nStop,103 MHz\nPoints,5\nLevel (dBm)\n-1\n-2\n-3\n-4\n", "input:3:", "5 points", "4 levels")
    bad("alone-skip", "Start,100 MHz\nStop,103 MHz\nLevel (dBm)\n-1\n-2\n3x\n-4\n-5\n", "input:6:", "shift", options="bad=skip")
    bad("alone-bad", "Start,100 MHz\nStop,103 MHz\nLevel (dBm)\n-1\n-2\n3x\n-4\n-5\n", "input:6:1:", "‘3x’")
    about("limits and hostile files")
    bad("frequency-beyond", head + rows() + "2e15,-20\n", "input:6:1:", "‘2e15’", "1e15 Hz")
    bad("frequency-time-stamp", "Frequency (GHz),Level (dBm)\n1700000000.5,-20\n1700000001.5,-21\n1700000002.5,-21\n", "input:2:1:", "1e15 Hz")
    bad("sweep-beyond", "-1\n-2\n-3\n", "input:", "1e15 Hz", options="start=1GHz&stop=3e15&unit=dBm")
    for name, row, at, told in ("1e300", "1e300,-20", 1, "1e15"), ("1e400", "1e400,-20", 1, "1e15"), ("1e-320", "1e-320,-20", 1, "1e-6"), ("level", "104000000,-1e300", 11, "400 dBm"):
        bad("range-" + name, head + rows() + row + "\n", f"input:6:{at}:", told)
    bad("level-beyond", head + rows() + "104000000,-400.5\n", "input:6:11:", "‘-400.5’", "400 dBm")
    bad("level-beyond-dbuv", "Frequency (Hz);Level (dBuV)\n100000000;10\n101000000;507.1\n102000000;11\n", "input:3:11:", "‘507.1’", "400 dBm")
    bad("level-beyond-volt", "Frequency (Hz);Level (V)\n100000000;1\n101000000;1e-21\n102000000;1\n", "input:3:11:", "‘1e-21’", "400 dBm")
    bad("level-beyond-second-column", "Frequency (Hz),A (dBm),B (dBm)\n1000000,-1,-2\n2000000,-1,900\n3000000,-1,-2\n", "input:3:12:", "‘900’", options="column=3")
    bad("block-beyond", b"#18" + struct.pack(">2f", -20, 1e6), "input:", "value 2", "1e+06 dBm", "?order=", options="format=real32&start=1MHz&stop=2MHz")
    about("ambiguity: both readings named")
    bad("date-as-frequency", "Date;Level (dBm)\n2026-10-03;-20\n2026-10-04;-21\n2026-10-05;-22\n", "input:")
    bad("clock-as-frequency", "Time;Level (dBm)\n10:00:01;-20\n10:00:02;-21\n10:00:03;-22\n", "input:")
    about("rows that do not parse")
    bad("hex", head + rows() + "0x5F5E100,-20\n", "input:6:1:", "‘0x5F5E100’")
    bad("two-marks-in-a-number", head + rows() + "1.040.000,-20\n", "input:6:1:", "‘1.040.000’")
    bad("unit-in-the-row", head + rows() + "104000000,-20 dBm\n", "input:6:11:", "‘-20 dBm’")
    bad("open-quote", head + rows() + '104000000,"-20\n', "input:6:11:", "not a number")
    bad("missing-value-dashes", head + rows() + "104000000,---\n", "input:6:11:", "‘---’")
    about("numbers: decimal marks, thousands, exponents")
    bad("thousands-broken", "Frequency (Hz);Level (dBm)\n100'000'000;-20\n101'000'00;-21\n102'000'000;-22\n", "input:3:1:", "‘101'000'00’")
    about("frequencies: order, unit, which column")
    bad("index-is-no-frequency", "Point,Level (dBm)\n1,-20\n2,-21\n3,-22\n", "input:")
    about("level units")
    bad("zero-watt", "Frequency (Hz),Level (W)\n1000000,1e-3\n2000000,0\n3000000,1e-3\n", "input:3:9:", "‘0’")
    bad("negative-volt", "Frequency (Hz),Level (mV)\n1000000,1\n2000000,-2\n3000000,3\n", "input:3:9:", "‘-2’")
    about("numbers: decimal marks, thousands, exponents")
    bad("decimal-option-wrong", "Frequency (MHz);Level (dBm)\n100,5;-20,5\n101,5;-21,5\n102,5;-22,5\n", "input:", options="decimal=point")
    bad("long-number", head + rows() + "104000000,-" + "1" * 500 + "\n", "input:6:11:", "not a number")
    about("blocks (IEEE 488.2) and lists")
    bad("block-no-format", b"#216" + struct.pack(">4f", -1, -2, -3, -4), "input:1:1:", "?format=real32")
    bad("block-too-short", b"#256" + b"\x40" * 40, "input:1:1:", "56 bytes", "40 follow", options="format=real32&start=1MHz&stop=2MHz")
    bad("block-1-gb", b"#9999999999" + b"\x40" * 40, "input:1:1:", "999999999 bytes", options="format=real32&start=1MHz&stop=2MHz")
    bad("block-digits", b"#9abc", "input:1:3:", "digit", options="format=real32&start=1MHz&stop=2MHz")
    bad("block-no-hash", b"\x40" * 40, "input:1:1:", "‘#’", options="format=real32&start=1MHz&stop=2MHz")
    bad("block-odd", b"#17" + b"\x40" * 7, "input:", "7 bytes", options="format=real32&start=1MHz&stop=2MHz")
    bad("block-empty", b"#10" + b"\x40" * 40, "input:", "0 values", options="format=real32&start=1MHz&stop=2MHz")
    bad("block-nan", b"#18" + struct.pack(">2f", -20, math.nan), "input:", "value 2", "?order=", options="format=real32&start=1MHz&stop=2MHz")
    bad("block-no-sweep", b"#18" + struct.pack(">2f", -20, -21), "input:", "?start=", options="format=real32")
    bad("list-text", "-20,-21,abc,-23\n", "input:1:9:", "‘abc’", options="format=ascii&start=1MHz&stop=2MHz")
    about("options")
    bad("option-unknown", five, "input: ?colour", "expected one of", options="colour=blue")
    bad("option-value", five, "input: ?detector", "quasi-peak", options="detector=best")
    bad("option-twice", five, "input: ?rbw=", "twice", options="rbw=1kHz&rbw=3kHz")
    bad("option-half", five, "input: ?center=", "go together", options="center=100MHz")
    bad("option-sweep", five, "input: ", "below the stop", options="start=2MHz&stop=1MHz")


def more_good():
    """What the issue's list has beyond the first ones."""
    head = "Frequency (Hz),Level (dBm)\n"
    about("encodings and line ends")
    japanese = "分解能帯域幅,10 kHz\n減衰量,15 dB\n検波,ピーク\n周波数 (Hz),振幅 (dBm)\n" + rows()
    good("shift-jis", japanese.encode("shift_jis"), rbw_hz=10e3, attenuation_db=15, detector="peak")
    good("euc-jp", japanese.encode("euc_jp"), rbw_hz=10e3, attenuation_db=15, detector="peak")
    good("utf16-le-crlf", ("\ufeff" + (head + rows()).replace("\n", "\r\n")).encode("utf-16-le"))
    good("bom-crlf-quoted", ('\ufeff"Frequency (Hz)","Level (dBm)"\n' + rows()).replace("\n", "\r\n"))
    good("windows-1252-micro", ("Spannung [dB\u00b5V] - Gerät\nFrequenz [Hz];Pegel [dB\u00b5V]\n" + "".join("%.0f;60\n" % f for f, _ in ROW)).encode("cp1252"),
         points=[(f, dbm_from_dbuv(60)) for f, _ in ROW], level_unit_read="dBuV")
    good("line-ends-mixed", (head + rows()).replace("\n", "\r\n", 2))
    good("cr-with-preamble", ("RBW,10 kHz\n" + head + rows()).replace("\n", "\r"), rbw_hz=10e3)
    good("ctrl-z-at-the-end", head + rows() + "\x1a")

    about("delimiters, quotes, layout of rows")
    good("quoted-doubled", 'Title,"a ""first"" look"\n"Frequency ""f"" (Hz)","Level (dBm)"\n' + rows(), traces=[("Level", ROW)])
    good("quoted-line-break-in-header", '"Frequency\n(Hz)","Level (dBm)"\n' + rows())
    good("separator-line", "sep=;\nFrequency (Hz);Level (dBm)\n" + rows(";"))
    good("tab-with-blanks", "Frequency (Hz)\t Level (dBm)\n" + rows("\t  "))
    good("header-other-delimiter", "Frequency (MHz);Level (dBuV)\n" + "".join("%.1f,60\n" % (f / 1e6) for f, _ in ROW),
         points=[(f, dbm_from_dbuv(60)) for f, _ in ROW], level_unit_read="dBuV")
    good("blank-lines-between", head + rows(end="\n\n"))

    about("numbers: decimal marks, thousands, exponents")
    good("thousands-blank", "Frequency (Hz);Level (dBm)\n" + "".join("{:,.0f};{:.2f}\n".format(f, l).replace(",", " ") for f, l in ROW))
    good("thousands-no-break", "Frequency (Hz);Level (dBm)\n" + "".join("{:,.0f};{:.2f}\n".format(f, l).replace(",", "\u00a0") for f, l in ROW))
    good("thousands-narrow-no-break", "Fréquence (Hz);Niveau (dBm)\n" + "".join("{:,.0f};{:.2f}\n".format(f, l).replace(".", "~").replace(",", "\u202f").replace("~", ",") for f, l in ROW))
    good("thousands-quoted-comma", '"Frequency (Hz)","Level (dBm)"\n' + "".join('"{:,.0f}","{:.2f}"\n'.format(f, l) for f, l in ROW))
    good("exponent-spellings", head + "1E8,-2.05E+01\n1.01e+8,-2.125e1\n1.02D8,-79\n.103E+09,-8.075d+01\n")
    good("plus-signs", head + "".join("+%.0f,%+.2f\n" % p for p in ROW))
    good("decimal-comma-exponent", "Frequenz (Hz);Pegel (dBm)\n" + "".join(("%.6E;%.4E\n" % p).replace(".", ",") for p in ROW))
    good("comma-by-option", "100,5,-50,25\n101,5,-51,25\n102,5,-52,25\n", options="decimal=point&frequency_unit=MHz&unit=dBm&column=3",
         points=[((100 + i) * 1e6, -50.0 - i) for i in range(3)], warnings=["column-chosen"])

    about("frequencies: order, unit, which column")
    good("frequency-column-option", "100;10\n200;20\n300;31\n", options="frequency_column=1&frequency_unit=MHz&unit=dBm", points=[(1e8, 10.0), (2e8, 20.0), (3e8, 31.0)])
    good("frequency-column-second", "100;10\n200;20\n300;31\n", options="frequency_column=2&frequency_unit=MHz&unit=dBm", points=[(1e7, 100.0), (2e7, 200.0), (3.1e7, 300.0)])
    good("frequency-by-size", "1000000;10\n2000000;20\n3000000;31\n", points=[(1e6, 10.0), (2e6, 20.0), (3e6, 31.0)], warnings=["frequency-decided", "unit-assumed", "unit-assumed"])
    good("dates-beside", "Date,Frequency (Hz),Level (dBm)\n" + "".join("2026-10-03,%.0f,%.2f\n" % p for p in ROW))
    good("clock-beside", "Time;Frequency (Hz);Level (dBm)\n" + "".join("10:00:%02d;%.0f;%.2f\n" % (i, f, l) for i, (f, l) in enumerate(ROW)))
    good("descending-no-header", rows(";", points=ROW[::-1]), warnings=["order-reversed", "unit-assumed", "unit-assumed"])
    good("frequency-thz", "Frequency (THz),Level (dBm)\n0.1,-20\n0.2,-30\n", points=[(1e11, -20.0), (2e11, -30.0)])

    about("level units")
    def volts(name, unit, scale, values):
        good(name, "Frequency (Hz);Level (%s)\n" % unit + "".join("%.0f;%s\n" % (f, v) for (f, _), v in zip(ROW, values)),
             points=[(f, 10 * math.log10((float(v) * scale) ** 2 / 50 * 1000)) for (f, _), v in zip(ROW, values)], level_unit_read="V")
    def watts(name, unit, scale, values):
        good(name, "Frequency (Hz);Power (%s)\n" % unit + "".join("%.0f;%s\n" % (f, v) for (f, _), v in zip(ROW, values)),
             points=[(f, 10 * math.log10(float(v) * scale * 1000)) for (f, _), v in zip(ROW, values)], level_unit_read="W")
    volts("millivolt", "mV", 1e-3, ["223.6", "1", "2.5E-3", "1000"])
    volts("nanovolt", "nV", 1e-9, ["223.6", "1", "2.5", "1000"])
    volts("picovolt", "pV", 1e-12, ["22360", "100", "250", "1000"])
    volts("millivolt-rms", "mVrms", 1e-3, ["223.6", "1", "2.5E-3", "1000"])
    volts("volt-eff", "Veff", 1, ["0.2", "1", "2.5E-3", "1"])
    volts("volt-word", "Volt", 1, ["0.2", "1", "2.5E-3", "1"])
    watts("microwatt", "µW", 1e-6, ["1", "0.001", "2e-3", "3"])
    watts("nanowatt", "nW", 1e-9, ["1", "0.001", "2e-3", "3"])
    watts("picowatt", "pW", 1e-12, ["1", "0.001", "2e-3", "3"])
    watts("femtowatt", "fW", 1e-15, ["1", "10", "2", "3"])
    watts("kilowatt", "kW", 1e3, ["1", "10", "2", "3"])
    watts("megawatt", "MW", 1e6, ["1", "10", "2", "3"])
    watts("milliwatt-lower-case", "mw", 1e-3, ["1", "10", "2", "3"])
    good("unit-line-only", "Hz;dBm\n" + rows(";"))
    good("unit-in-preamble", "Y unit,dBm\nFrequency (Hz),Trace 1\n" + rows())

    about("preamble: six languages, units in key, value, line")
    small = dict(rbw_hz=10e3, vbw_hz=30e3, reference_dbm=0, attenuation_db=10, sweep_time_s=0.1)
    names = lambda f, l: "%s;%s\n" % (f, l) + rows(";", "%.3f", scale=1e6, comma=True)
    good("preamble-german-2", "Auflösebandbreite;10 kHz\nVideobandbreite (Hz);30000\nReferenzpegel (dBm);0\nHF-Dämpfung [dB];10\nDetektor;Mittelwert\nSweepzeit;0,1 s\nEinheit;dBm\n"
         + names("Frequenz in MHz", "Pegel in dBm"), detector="average", **small)
    good("preamble-french-2", "Fréq. début;100 MHz\nFréq. fin;103 MHz\nFiltre de résolution;10 kHz\nFiltre vidéo;30 kHz\nNiveau réf.;0 dBm\nAtténuateur;10 dB\nDétection;crête positive\n"
         "Durée du balayage;100 ms\n" + names("Fréquence en MHz", "Amplitude en dBm"), detector="peak", **small)
    good("preamble-spanish-2", "Frec. inicio;100 MHz\nFrec. fin;103 MHz\nAncho de banda de resolución (kHz);10\nAncho banda vídeo (kHz);30\nNivel referencia (dBm);0\nAtenuación RF;10 dB\n"
         "Detector;Pico positivo\nTiempo barrido;100 ms\n" + names("Frecuencia [MHz]", "Potencia [dBm]"), detector="peak", **small)
    good("preamble-italian-2", "Freq. inizio;100 MHz\nFreq. fine;103 MHz\nLarghezza banda risoluzione;10 kHz\nLarghezza banda video;30 kHz\nLivello di rif.;0 dBm\nAttenuazione ingresso;10 dB\n"
         "Rilevatore;picco positivo\nTempo sweep;100 ms\n" + names("Frequenza [MHz]", "Ampiezza [dBm]"), detector="peak", **small)
    good("preamble-japanese-2", "スタート周波数：100 MHz\nストップ周波数：103 MHz\n分解能帯域幅(RBW)：10 kHz\nビデオ帯域幅(VBW)：30 kHz\nリファレンスレベル：0 dBm\n入力アッテネータ：10 dB\n"
         "検波：サンプル\n掃引時間：100 ms\n周波数 (Hz),レベル (dBm)\n" + rows(), detector="sample", **small)
    good("preamble-english-2", "Start Freq,100000000,Hz\nStop Freq,103000000,Hz\nResolution Bandwidth,10000,Hz\nVideo Bandwidth,30000,Hz\nReference Level,0,dBm\nRF Attenuation,10,dB\n"
         "Detector Type,Positive Peak\nSweep Time,0.1,s\nNumber of Points,4\nAveraging,Log\nNumber of Averages,10\nShown,as swept last\nValues\nFrequency,Amplitude\nHz,dBm\n" + rows(),
         detector="peak", average="log", averages=10, **small)
    good("preamble-abbreviations", "RES BW: 10 kHz\nVID BW: 30 kHz\nREF LVL: 0 dBm\nRF ATT: 10 dB\nDET: POS\nSWT: 100 ms\nSWP PTS: 4\n" + head + rows(), detector="peak", **small)
    good("preamble-tight", "RBW=10kHz\nVBW=30kHz\nREF=0dBm\nATT=10dB\nSWEEP=100ms\nDET=AVER\n" + head + rows(), detector="average", **small)
    good("preamble-unit-column", "Parameter,Value,Unit\nRBW,10,kHz\nVBW,30,kHz\nRef,0,dBm\nAtt,10,dB\nSweep time,100,ms\n\n" + head + rows(), **small)
    good("preamble-sections", "[Settings]\nRBW=10 kHz\nVBW=30 kHz\n[Data]\n" + head + rows(), rbw_hz=10e3, vbw_hz=30e3)
    good("preamble-commented", "# RBW: 10 kHz, VBW: 30 kHz\n! Detector = RMS\n// Attenuation 10 dB\n" + head + rows(), rbw_hz=10e3, vbw_hz=30e3, detector="rms", attenuation_db=10)
    good("preamble-side-by-side", "RBW;10 kHz;VBW;30 kHz\nAtt;10 dB;Ref;0 dBm;Sweep;100 ms\nFrequency (Hz);Level (dBm)\n" + rows(";"), **small)
    good("preamble-row-of-keys", "Center,Span,RBW,VBW,Att\n101.5 MHz,3 MHz,10 kHz,30 kHz,10 dB\n" + head + rows(), rbw_hz=10e3, vbw_hz=30e3, attenuation_db=10)
    good("preamble-row-of-keys-and-units", "RBW,VBW,Att,Sweep\nkHz,kHz,dB,ms\n10,30,10,100\n" + head + rows(), rbw_hz=10e3, vbw_hz=30e3, attenuation_db=10, sweep_time_s=0.1)
    good("preamble-value-below", "RBW\n10 kHz\nVBW\n30 kHz\n" + head + rows(), rbw_hz=10e3, vbw_hz=30e3)

    about("levels alone, start and stop from elsewhere")
    levels = "".join("%.2f\n" % l for _, l in ROW)
    good("alone-on-french", "Fréquence de départ : 100 MHz\nFréquence d'arrêt : 103 MHz\nUnité : dBm\n" + levels)
    good("alone-japanese", "開始周波数,100 MHz\n終了周波数,103 MHz\nレベル (dBm)\n" + levels)
    good("alone-two-traces", "Start,100 MHz\nStop,103 MHz\nA (dBm),B (dBm)\n" + "".join("%.2f,%.2f\n" % (l, l - 1) for _, l in ROW),
         traces=[("A", ROW), ("B", [(f, l - 1) for f, l in ROW])])

    about("several columns, several tables")
    good("own-frequencies", "F1 (Hz),L1 (dBm),F2 (Hz),L2 (dBm)\n" + "".join("%.0f,%.2f,%.0f,%.2f\n" % (f, l, f + 5e5, l + 1) for f, l in ROW),
         options="frequency_column=3&column=4", traces=[("L2", [(f + 5e5, l + 1) for f, l in ROW])], warnings=["column-chosen"])
    good("three-columns-one-held", "Frequency (MHz)\tClear write (dBm)\tMax hold (dBm)\tMin hold (dBm)\n" + "".join("%.1f\t%.2f\t%.2f\t%.2f\n" % (f / 1e6, l, l + 1, l - 1) for f, l in ROW),
         traces=[("Clear write", ROW), ("Max hold", [(f, l + 1) for f, l in ROW]), ("Min hold", [(f, l - 1) for f, l in ROW])])

    about("comments, blocks and notes behind the rows")
    good("marker-table-behind", head + rows() + "\nMarker,Frequency (Hz),Level (dBm)\n1,101000000,-21.25\n2,102000000,-79\n", warnings=["trailing-block"])
    good("notes-behind", head + rows() + "\nNote: taken 2026-10-03\nOperator,Mira\n", warnings=["trailing-block"])

    about("blocks (IEEE 488.2) and lists")
    values = [l for _, l in ROW]
    sweep = "start=100MHz&stop=103MHz&unit=dBm"
    good("block-real64-little", b"#232" + struct.pack("<4d", *values) + b"\r\n", options="format=real64&order=little&" + sweep)
    good("block-indefinite-ascii", "#0-20.5,-21.25,-79,-80.75\n", options="format=ascii&" + sweep)
    good("block-volts", b"#216" + struct.pack(">4f", 1, 0.5, 0.25, 0.125), options="format=real32&start=100MHz&stop=103MHz&unit=V",
         points=[(f, 10 * math.log10(v * v / 50 * 1000)) for (f, _), v in zip(ROW, [1, 0.5, 0.25, 0.125])], level_unit_read="V")
    good("list-lines", "-20.5\n-2.125E1\n-79\n-80.75\n", options="format=ascii&" + sweep)


def more_bad():
    head = "Frequency (Hz),Level (dBm)\n"
    about("ambiguity: both readings named")
    bad("ambiguous-pair", "1,234\n2,345\n3,456\n", "input:1:1:", "two ways", "1 | 234", "1.234", "?frequency_unit=", "?decimal=comma")
    bad("ambiguous-comma-for-both", "100,5,-50,25\n101,5,-51,25\n102,5,-52,25\n", "input:1:1:", "two ways", "100 | 5 | -50 | 25", "100.5 | -50.25", "?decimal=point")
    bad("ambiguous-comma-for-both-header", "Frequency (MHz),Level (dBm)\n100,5,-50,25\n101,5,-51,25\n102,5,-52,25\n", "input:2:1:", "100.5 | -50.25")
    bad("ambiguous-comma-empty-names", "Frequency (MHz),,Level (dBm),\n100,5,-50,25\n101,5,-51,25\n102,5,-52,25\n", "input:2:1:", "100.5 | -50.25")
    bad("ambiguous-comma-both-options", "100,5,-50,25\n101,5,-51,25\n102,5,-52,25\n", "input:1:1:", "100.5 | -50.25", options="decimal=comma&delimiter=comma")
    bad("ambiguous-alone", "Start,100 MHz\nStop,103 MHz\nUnit,dBm\n-20,125\n-21,250\n-22,375\n", "input:4:1:", "-20 | 125", "-20.125", "?decimal=comma")
    bad("ambiguous-frequency", "100;10\n200;20\n300;31\n", "input:1:1:", "1 (100 … 300) or 2 (10 … 31)", "?frequency_column=1", "?frequency_column=2")
    bad("ambiguous-volts-first", "0.1,100.1\n0.2,100.2\n0.3,100.3\n", "input:1:1:", "?frequency_column=1 or ?frequency_column=2")
    bad("ambiguous-days", "20261003;-20\n20261004;-21\n20261005;-22\n", "input:1:1:", "two ways", "?frequency_unit=Hz", "dates")
    bad("ambiguous-days-and-frequency", "20261003;1000000;-20\n20261004;2000000;-21\n20261005;3000000;-22\n", "input:1:1:", "20261003", "?frequency_column=2")
    bad("ambiguous-counter", "100000000;1\n101000000;2\n102000000;3\n", "input:1:1:", "two ways", "?column=2")
    bad("dates-with-points", "Datum;Pegel (dBm)\n03.10.2026;-20\n04.10.2026;-21\n05.10.2026;-22\n", "input:2:1:", "‘03.10.2026’", "?start=")
    bad("dates-with-dashes", "Date;Level (dBm)\n2026-10-03;-20\n2026-10-04;-21\n", "input:2:1:", "‘2026-10-03’", "dates")
    about("frequencies: order, unit, which column")
    bad("frequency-column-none", head + rows(), "input:1:1:", "?frequency_column=7", "1 to 2", options="frequency_column=7")
    bad("frequency-column-is-level", head + rows(), "input:1:1:", "?frequency_column=2", options="frequency_column=2&column=2")
    about("level units")
    for name, unit in (("peak-to-peak", "mVpp"), ("giga-volt", "GV"), ("dbv", "dBV"), ("percent", "%"), ("decibel-alone", "dB"), ("dbuv-emf", "dBuV EMF")):
        bad("unit-" + name, "Frequency (Hz),Level (%s)\n" % unit + rows(), "input:1:16:", "‘%s’" % unit, "?unit=")
    about("numbers: decimal marks, thousands, exponents")
    bad("power-of-ten-written", head + "1x10^8,-20\n2x10^8,-30\n", "input:2:1:", "‘1x10^8’")
    bad("number-of-10000-digits", head + rows() + "1" * 10000 + ",-20\n", "input:6:1:", "not a number")
    bad("scpi-infinity", head + rows() + "104000000,-9.9E37\n", "input:6:11:", "‘-9.9E37’")
    about("limits and hostile files")
    bad("nul-bytes", head.encode() + b"1000000,-20\n\0\0\0\n2000000,-20\n", "input:3:1:", "0x00")


def readme():
    lines = ["# Cases of the reader", "", "Written by `make-cases.py`, which holds the truth; run by `tests/trace/cases.c`. A good case is read to the last digit, and written",
             "in every other layout and read back by `tests/trace/round-trip.c`; a bad one is refused at its line and column.", "",
             "| about | good | bad |", "|---|---:|---:|"]
    total = {kind: sum(counts[kind] for counts in SECTIONS.values()) for kind in ("good", "bad")}
    lines += ["| %s | %d | %d |" % (what, n["good"], n["bad"]) for what, n in sorted(SECTIONS.items())]
    lines.append("| all | %(good)d | %(bad)d |" % total)
    with open(os.path.join(HERE, "README.md"), "w", encoding="utf-8") as out:
        out.write("\n".join(lines) + "\n")


for folder in ("good", "bad"):
    shutil.rmtree(os.path.join(HERE, folder), ignore_errors=True)
good_cases()
more_good()
bad_cases()
more_bad()
readme()
print(*(f"{len(os.listdir(os.path.join(HERE, folder)))} {folder}" for folder in ("good", "bad")))
