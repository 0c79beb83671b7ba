"""A workbook read back: its tables by the names of their columns, and LibreOffice made to work every formula again."""
import os
import re
import shutil
import subprocess
import tempfile
import zipfile

try:
    import openpyxl
except ModuleNotFoundError:
    raise SystemExit("the workbook is read by openpyxl: install python3-openpyxl (tests/run does)")

# Without it LibreOffice believes the values that are stored in the file, and a conversion proves nothing.
ALWAYS = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry" xmlns:xs="http://www.w3.org/2001/XMLSchema"
 xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>%d</value></prop></item>
</oor:items>
"""


class Office:
    """LibreOffice with a profile and a home of its own."""

    def __init__(self):
        self.folder = tempfile.mkdtemp(prefix="spurproof-office-")

    def close(self):
        shutil.rmtree(self.folder)

    def convert(self, path, recalculate=True, kind="xlsx"):
        """The path of what LibreOffice makes of a workbook."""
        profile = os.path.join(self.folder, "always" if recalculate else "never")
        user, out = os.path.join(profile, "user"), tempfile.mkdtemp(dir=self.folder)
        if not os.path.isdir(user):
            os.makedirs(user)
            with open(os.path.join(user, "registrymodifications.xcu"), "w", encoding="utf-8") as file:
                file.write(ALWAYS % (0 if recalculate else 1))
        program = shutil.which("soffice") or shutil.which("localc")
        if not program:
            raise AssertionError("LibreOffice works the formulas again: install libreoffice-calc-nogui (tests/run does)")
        env = dict(os.environ, HOME=self.folder, TMPDIR=self.folder, LC_ALL="C.UTF-8")
        run = subprocess.run([program, f"-env:UserInstallation=file://{profile}", "--headless", "--convert-to", kind, "--outdir", out, path],
                             capture_output=True, env=env, timeout=1800)
        made = [os.path.join(out, name) for name in os.listdir(out)]
        if len(made) != 1:
            raise AssertionError(f"LibreOffice made nothing of {path}: {run.stdout} {run.stderr}")
        return made[0]


def table(sheet, first_head, last_head=None):
    """Rows below the head row that begins with `first_head` (and holds `last_head`): a list of {head: value}, to the first empty row."""
    rows = list(sheet.iter_rows(values_only=True))
    for i, row in enumerate(rows):
        if row[0] == first_head and (last_head is None or last_head in row):
            heads, found = row, []
            for below in rows[i + 1:]:
                if below[0] is None:
                    break
                named, seen = {}, {}
                for head, value in zip(heads, below):
                    seen[head] = seen.get(head, 0) + 1
                    named[head if seen[head] == 1 else f"{head} #{seen[head]}"] = value
                found.append(named)
            return found
    raise AssertionError(f"{sheet.title}: there is no table {first_head}")


def fact(sheet, name):
    for row in sheet.iter_rows(max_col=2, values_only=True):
        if row[0] == name:
            return row[1]
    raise AssertionError(f"{sheet.title}: there is no {name}")


def beside(sheet, name):
    """What stands beside a name anywhere in the first rows of a sheet."""
    for row in sheet.iter_rows(max_row=4, values_only=True):
        if name in row:
            return row[row.index(name) + 1]
    raise AssertionError(f"{sheet.title}: there is no {name}")


def room(one):
    """What stands beside the verdict of an emission, or of a condition: that of the emission which decides it."""
    blind = one.get("decision") == "blind" or (
        one["deciding_margin_db"] is None and any(e["decision"] == "blind" and e["verdict"] == one["verdict"] for e in one.get("emissions", ())))
    return "blind" if blind else one["deciding_margin_db"] if one["room_known"] or one["deciding_margin_db"] is None else "unknown"


def condition_sheets(workbook):
    """The conditions' sheets in order: what stands between Figure and Chain."""
    names = workbook.sheetnames
    return [workbook[name] for name in names[names.index("Figure") + 1:names.index("Chain")]]


def page_sheets(workbook):
    """The conditions' sheets for people in order: what stands between Summary and Figure."""
    names = workbook.sheetnames
    return [workbook[name] for name in names[names.index("Summary") + 1:names.index("Figure")]]


def of_page(page, radio):
    """(what, got, wanted) of a condition's sheet for people: its facts, and the rows that stand for one emission."""
    base = radio["fundamental"]
    facts = {row[0]: row[1] for row in page.iter_rows(max_row=24, max_col=2, values_only=True)}
    mhz = lambda hz: None if hz is None else hz / 1e6  # noqa: E731
    yield "carrier", facts["Carrier, MHz"], mhz(base["frequency_hz"])
    yield "power", facts["Power, W"], base["power_w"]
    for row in table(page, "Emission", "Whose"):
        if not isinstance(row["MHz"], (int, float)):
            continue
        e = min((one for one in radio["emissions"] if one["frequency_hz"] is not None), key=lambda one: abs(one["frequency_hz"] - row["MHz"] * 1e6))
        yield "page's MHz", row["MHz"], mhz(e["frequency_hz"])
        for head, wanted in (("Level, dBm", e["level_dbm"]), ("± U, dB", e["expanded_db"]), ("Limit, dBm", e["limit_dbm"]),
                             ("Room, dB", room(e)), ("Whose", None if e["origin"] == "none" else e["origin"]), ("Verdict", e["verdict"])):
            yield f"page's {row['Emission']}: {head}", row[head], wanted


def of_evidence(sheet, radio):
    """(what, got, wanted) of the tables that say whose the emissions are."""
    shown = [e for e in radio["emissions"] if e["evidence"] or e["repeats"] > 1]
    rows = table(sheet, "Emission", "Origin by") if shown else []
    assert len(rows) == len(shown), (sheet.title, len(rows), len(shown))
    for row, e in zip(rows, shown):
        evidence, name = e["evidence"] or {}, row["Emission"]
        unkeyed = evidence.get("ambient_dbm")
        for what, got, wanted in (
                ("basis", row["Origin by"], None if e["origin_basis"] == "none" else e["origin_basis"]),
                ("unkeyed", row["Stands there unkeyed (not seen: floor), dBm"], unkeyed),
                ("seen unkeyed", row["Seen unkeyed"], None if unkeyed is None else "yes" if evidence["ambient_seen"] else "no"),
                ("repeats", row["Sweeps of equal settings"], e["repeats"]), ("mean", row["Their mean, dBm"], e["repeat_mean_dbm"]),
                ("type A", row["Type A u, dB"], e["repeat_u_db"]), ("p radio", row["p radio 6 dB over"], evidence.get("p_radio")),
                ("p analyzer", row["p analyzer 6 dB over"], evidence.get("p_analyzer"))):
            yield f"{name}: {what}", got, wanted
    points = [point for e in radio["emissions"] for point in (e["evidence"] or {}).get("readings", [])]
    rows = table(sheet, "Emission", "More attenuation, dB") if points else []
    assert len(rows) == len(points), (sheet.title, len(rows), len(points))
    for row, point in zip(rows, points):
        for head, key in (("More attenuation, dB", "attenuation_db"), ("Level (not seen: threshold), dBm", "level_dbm"), ("u of the reading, dB", "u_db"),
                          ("The analyzer's own moves, dB", "own_db"), ("Model from, dBm", "fit_low_dbm"), ("middle, dBm", "fit_dbm"), ("to, dBm", "fit_high_dbm")):
            yield f"{row['Emission']}: {head}", row[head], point[key]
        yield f"{row['Emission']}: seen", row["Seen"], "yes" if point["seen"] else "no"


def disagreements(path, judged):
    """Every cell whose value is not the judging's to 1e-9 (to LibreOffice's 15 digits, for frequencies): [(sheet, what, got, wanted)]; and how
    many were compared."""
    workbook, wrong, n = openpyxl.load_workbook(path, data_only=True, read_only=True), [], 0

    def same(sheet, what, got, wanted, words=None):
        nonlocal n
        n += 1
        if isinstance(wanted, (int, float)) and not isinstance(wanted, bool):
            good = isinstance(got, (int, float)) and abs(got - wanted) <= max(1e-9, 1e-14 * abs(wanted))
        else:
            good = got == wanted or (wanted is None and got in (words or ()))
        if not good:
            wrong.append((sheet, what, got, wanted))

    sheets, pages = condition_sheets(workbook), page_sheets(workbook)
    summary = table(workbook["Summary"], "Radio and condition")
    assert len(sheets) == len(pages) == len(summary) == len(judged["radios"]), (len(sheets), len(pages), len(summary))
    for sheet, page, row, radio in zip(sheets, pages, summary, judged["radios"]):
        base, title = radio["fundamental"], sheet.title
        words = (None, "", "infinite", "nothing", "none", "not known")
        for got, wanted in ((fact(sheet, "Verdict"), radio["verdict"]), (row["Verdict"], radio["verdict"]),
                            (fact(sheet, "Worst margin, dB"), radio["worst_margin_db"]), (beside(sheet, "Room, dB"), room(radio)),
                            (row["Room, dB"], room(radio)),
                            (row["Level at the socket, dBm"], base["level_dbm"]), (row["U, dB"], base["expanded_db"]),
                            (row["Power, W"], base["power_w"]), (fact(sheet, "U of P, dB"), base["expanded_db"]),
                            (fact(sheet, "P, level at the socket, dBm"), base["level_dbm"]),
                            (row["Fundamental, MHz"], base["frequency_hz"] and base["frequency_hz"] / 1e6)):
            same(title, "condition", got, wanted, words)
        for what, got, wanted in of_page(page, radio):
            same(title, what, got, wanted, words)
        if not radio["emissions"]:
            continue
        ledger = table(sheet, "Emission", "Verdict")
        working = table(sheet, "Level = reading and all up to the shift")
        uncertainty = table(sheet, "Emission", "u of level, dB")
        assert len(ledger) == len(working) == len(uncertainty) == len(radio["emissions"]), (title, len(ledger))
        for line, parts, u, e in zip(ledger, working, uncertainty, radio["emissions"]):
            has_margin = e["margin_u_db"] is not None
            for what, got, wanted in (
                    ("level", line["Level at the socket, dBm"], e["level_dbm"]), ("U", line["U, dB"], e["expanded_db"]),
                    ("dBc", line["Level, dBc"], e["level_dbc"]), ("U dBc", line["U of dBc, dB"], e["dbc_expanded_db"]),
                    ("floor", line["Floor, dBm"], e["floor_dbm"]), ("limit", line["Limit, dBm"], e["limit_dbm"]),
                    ("margin", line["Margin, dB"], e["margin_db"]), ("U margin", line["U of margin, dB"], e["margin_expanded_db"]),
                    ("p", line["p that it complies"], e["deciding_conformity"]), ("room", line["Room, dB"], room(e)),
                    ("origin", line["Origin"], e["origin"]),
                    ("verdict", line["Verdict"], e["verdict"]), ("seen", line["Seen"], "yes" if e["detected"] else "no"),
                    ("floor is", line["Floor is"], e["floor_cause"]), ("frequency", line["Frequency, Hz"], e["frequency_hz"]),
                    ("low", parts["Radio's part from, dBm"], e["radio_part_low_dbm"]), ("high", parts["to, dBm"], e["radio_part_high_dbm"]),
                    ("u", u["u of level, dB"], e["u_db"]), ("k", u["k"], e["k"]),
                    ("margin's u", u["u of margin, dB"] if has_margin else None, e["margin_u_db"])):
                same(title, f"{line['Emission']}: {what}", got, wanted, words)
        for what, got, wanted in of_evidence(sheet, radio):
            same(title, what, got, wanted, words)
    return wrong, n


def first_working(path):
    """The file of the first condition's sheet in a workbook."""
    workbook = openpyxl.load_workbook(path, read_only=True)
    return f"xl/worksheets/sheet{workbook.sheetnames.index(condition_sheets(workbook)[0].title) + 1}.xml"


def edited(path, target, part, change):
    """A copy of a workbook with one of its files changed; `change` gets and gives text."""
    with zipfile.ZipFile(path) as old, zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as new:
        for item in old.infolist():
            data = old.read(item)
            if item.filename == part:
                text = data.decode()
                data = change(text).encode()
                assert data.decode() != text, "nothing was changed"
            new.writestr(item, data)


def with_cached(text, cell, value):
    """A sheet's XML with another stored value in a formula's cell."""
    return re.sub(rf'(<c r="{cell}"[^>]*><f>[^<]*</f><v>)[^<]*(</v>)', rf"\g<1>{value}\g<2>", text)
