#!/usr/bin/python3
"""The whole program in a display of its own, driven through the accessibility tree: what judge knows is what can be read there, edits are
undone, what was saved survives, and a file that cannot be read leaves everything as it was."""
import json
import os
import shutil
import struct
import subprocess
import sys
import tempfile
import unittest
import zipfile

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path[:0] = [HERE, os.path.join(HERE, "..")]
import counted  # noqa: E402
from desk import BATCH, SAMPLE, Atspi, Desk, act, below, children, has, labels, name, role, steady, until  # noqa: E402

POCKET = os.path.join(os.path.dirname(SAMPLE), "pocket.sheet")


def judge(path):
    run = subprocess.run([BATCH, "judge", path, "--json"], capture_output=True, text=True, check=False)
    if not run.stdout:
        raise AssertionError(run.stderr)
    return json.loads(run.stdout)["radios"]


def number(text):
    """Of a cell: None where nothing stands."""
    digits = text.lstrip("< ").replace("\N{MINUS SIGN}", "-").replace("\N{NARROW NO-BREAK SPACE}", "")
    return float(digits) if digits else None


def called(emission):
    """As the ledger calls it."""
    order = emission["order"]
    place = emission["frequency_hz"]
    scale, unit = (1e9, "GHz") if place >= 1e9 else (1e6, "MHz")
    if not order:
        return f"spur at {place / scale:.6g}\N{NARROW NO-BREAK SPACE}{unit}"
    return f"{order}{({2: 'nd', 3: 'rd'}).get(order, 'th')} harmonic"


class Case(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.mkdtemp(prefix="window")
        self.addCleanup(shutil.rmtree, self.folder)

    def place(self, *parts):
        return os.path.join(self.folder, *parts)

    def desk(self, *arguments, **more):
        desk = Desk(*arguments, **{"home": self.place("home"), **more})
        self.addCleanup(desk.kill)
        return desk

    def close_to(self, text, value, digits, what):
        """A cell is the value, rounded; or empty where there is none."""
        self.assertEqual(number(text) is None, value is None, f"{what}: “{text}”, judge says {value}")
        if value is not None:
            self.assertAlmostEqual(number(text), value, delta=0.5001 * 10 ** -digits, msg=what)


class Reading(Case):
    def test_verdicts_are_judges(self):
        with self.desk(SAMPLE) as desk:
            rows = until(lambda: len(desk.radios()) == 7 and desk.radios(), "seven rows")
            for row, found in zip(rows, judge(SAMPLE)):
                self.assertEqual((row[0], row[1], row[3]), (found["radio"], found["condition"], found["verdict"]))
                self.close_to(row[2], found["deciding_margin_db"], 1, row[0])
            spoken = [name(one) for one in children(desk.get("list", "Radios")) if has(one, Atspi.StateType.FOCUSABLE)]
            self.assertEqual([words.split(":")[1].split(",")[0].strip() for words in spoken if words], [row[3] for row in rows])

    def test_emissions_are_judges(self):
        founds = judge(SAMPLE)
        shared = [found["radio"] for found in founds]  # what tells a condition of such a radio from the others stands first
        short = lambda found: f"{found['condition']} {found['radio']}" if shared.count(found["radio"]) > 1 else found["radio"]  # noqa: E731
        judged = {f"{short(found)} {called(e)}": e for found in founds for e in found["emissions"]}
        with self.desk(SAMPLE, preferences="ledger-rows=all\n") as desk:
            rows = until(lambda: len(desk.ledger()) == len(judged) and desk.ledger(), f"{len(judged)} rows in the table")
            for what, level, expanded, limit, room, whose, verdict, because in rows:
                self.assertIn(what, judged, "none of judge's emissions")
                e = judged.pop(what)
                self.assertEqual(verdict, e["verdict"], what)
                self.assertEqual(whose, e["origin"] or "", what)
                self.assertEqual(bool(because), bool(e["reason"]), what)
                self.assertEqual(level.startswith("<"), bool(level) and not e["detected"], what)
                self.close_to(limit, e["limit_dbm"], 1, what)
                if level:
                    self.close_to(level, e["level_dbm"], 1, what)
                    self.close_to(expanded, e["expanded_db"], 1, what)
                if e["limit_dbm"] is not None and level:
                    figure, _, its_u = room.partition("\N{NO-BREAK SPACE}\N{PLUS-MINUS SIGN}\N{NO-BREAK SPACE}")
                    self.close_to(figure, e["deciding_margin_db"], 1, what)
                    self.close_to(its_u, e["deciding_expanded_db"] if figure else None, 1, what)
            self.assertEqual(judged, {}, "emissions that the table does not show")

    def test_the_chosen_radios_emissions_alone(self):
        found = judge(SAMPLE)
        with self.desk(SAMPLE) as desk:
            for index in (1, 6):
                desk.choose(index)
                expected = [called(e) for e in found[index]["emissions"]]
                until(lambda: [row[0] for row in desk.ledger()] == expected, f"the rows are {found[index]['name']}'s, in order: {expected}")
                self.assertEqual([row[6] for row in desk.ledger()], [e["verdict"] for e in found[index]["emissions"]])

    def test_choice_zoom_and_back(self):
        with self.desk(SAMPLE) as desk:
            desk.resize(1024, 640)
            chart = desk.get("image", "Spectrum")
            desk.choose(3)
            until(lambda: all(word in chart.get_description() for word in ("Brundlow", "not proven")), "the chart speaks of it")
            views = [desk.picture(of=chart)]
            for what in (lambda: desk.do("win.chart-zoom-in"), lambda: desk.keys("ctrl+plus"), lambda: act(chart, "chart.zoom-out")):
                what()
                views.append(desk.picture(of=chart))
                self.assertNotEqual(views[-1], views[-2])
            for key, view in (("alt+Left", 2), ("alt+Left", 1), ("alt+Right", 2), ("ctrl+0", 0)):
                desk.keys(key)
                self.assertTrue(desk.picture(of=chart) == views[view], f"{key} goes to view {view}")
            for order in ("9th", "8th", "9th"):  # the 10th decides, and is chosen with its radio
                act(chart, "chart.previous-emission" if order != "9th" or "10th" in chart.get_description() else "chart.next-emission")
                until(lambda: f"{order} harmonic" in chart.get_description(), f"the chart speaks of the {order}")

    def test_all_sweeps_or_the_judged_ones(self):
        """Steps and what is there unkeyed are drawn, and said; a key leaves them out, in the exported picture too, until it is pressed again."""
        pictures = [self.place(one) for one in ("judged.svg", "all.svg")]
        with self.desk(POCKET, answers=[pictures[0]]) as desk:
            until(desk.radios, "its radios")
            desk.choose(0)
            chart = desk.get("image", "Spectrum")
            until(lambda: all(word in chart.get_description() for word in ("Faint", "+10", "+20", "unkeyed")), "the chart speaks of them")
            before = desk.picture(of=chart)
            desk.keys("ctrl+shift+l")
            until(lambda: "Faint" not in chart.get_description(), "the chart speaks of them no more")
            self.assertNotEqual(desk.picture(of=chart), before)
            desk.do("win.picture")
            until(lambda: os.path.exists(pictures[0]), "the picture is written")
            desk.close()
        with self.desk(POCKET, answers=[pictures[1]]) as desk:  # as it was left
            until(desk.radios, "its radios")
            desk.choose(0)
            chart = desk.get("image", "Spectrum")
            until(lambda: "Orbanick" in chart.get_description(), "the chart speaks of the radio")
            self.assertNotIn("Faint", chart.get_description())
            desk.keys("ctrl+shift+l")
            until(lambda: "Faint" in chart.get_description(), "they are back")
            desk.do("win.picture")
            until(lambda: os.path.exists(pictures[1]), "the picture is written")
            desk.close()
        judged, everything = (open(one, "rb").read() for one in pictures)
        self.assertGreater(len(everything), len(judged))


class Planning(Case):
    def test_range_and_evidence(self):
        with self.desk(SAMPLE) as desk:
            desk.choose(3)
            found = judge(SAMPLE)[3]
            desk.judged()
            desk.keys("F4")  # the deciding harmonic is chosen with its radio
            until(lambda: "Brundlow, 10th harmonic: nothing was seen" in labels(desk.window), "the evidence opens")
            desk.keys("Escape")
            until(lambda: "Brundlow, 10th harmonic: nothing was seen" not in labels(desk.window), "and closes")
            desk.keys("alt+3")
            figure = until(lambda: desk.find("image", "Range against mixer level"), "the page")
            until(lambda: "10th harmonic" in figure.get_description(), "it speaks of the 10th")
            until(lambda: any("Sweep with" in one for one in labels(desk.window)), "how to sweep")
            harmonics = [row for row in found["emissions"] if row["order"]]
            shown = steady(lambda: labels(desk.window))
            first = shown.index("found") + 1  # six words for each harmonic
            for i, one in enumerate(harmonics):
                self.assertAlmostEqual(number(shown[first + 6 * i + 1]), one["floor_dbm"], delta=0.65, msg=f"floor of harmonic {i + 2}")
                verdict, _, room = shown[first + 6 * i + 5].rpartition(" ")
                self.assertEqual(verdict, one["verdict"])
                self.close_to(room, one["deciding_margin_db"], 1, verdict)
            before = figure.get_description(), desk.picture(of=figure)
            act(desk.get("push button", "Best"))
            until(lambda: figure.get_description() != before[0], "the point moves")
            self.assertNotEqual(desk.picture(of=figure), before[1])
            act(desk.get("push button", "Today"))
            until(lambda: figure.get_description() == before[0], "and goes back")


class Editing(Case):
    def test_undo_and_redo(self):
        with self.desk(SAMPLE) as desk:
            desk.judged()
            first, undo, redo = desk.radios(), desk.get("push button", "Undo"), desk.get("push button", "Redo")
            names = desk.names()
            self.assertFalse(has(undo, Atspi.StateType.SENSITIVE) or has(redo, Atspi.StateType.SENSITIVE))
            desk.choose(1)
            states = [names]

            def step(what, wanted):
                until(lambda: desk.names() == wanted, lambda: f"{what}: {wanted}, not {desk.names()}")
                states.append(wanted)
            desk.keys("ctrl+d")
            step("duplicated", names[:2] + ["Tulvannick/2 m 2"] + names[2:])
            until(lambda: "Tulvannick" in undo.get_description(), "Undo says what")
            desk.keys("F2")
            dialog = desk.dialog()
            desk.write(desk.get("text", "name", dialog), "Oskelby", dialog)
            step("renamed", [one.replace("Tulvannick", "Oskelby") for one in states[-1]])
            desk.keys("Escape", window=dialog)
            desk.gone(dialog)
            desk.choose(3)
            desk.keys("ctrl+Delete")
            step("removed", states[-1][:3] + states[-1][4:])
            desk.choose(0)
            desk.keys("alt+Down")
            step("moved", [states[-1][1], states[-1][0]] + states[-1][2:])
            for wanted in reversed(states[:-1]):
                desk.keys("ctrl+z")
                until(lambda: desk.names() == wanted, lambda: f"undone: {wanted}, not {desk.names()}")
            until(lambda: desk.radios() == first, "everything as it was, margins too")
            until(lambda: not has(undo, Atspi.StateType.SENSITIVE), "nothing more to undo")
            for wanted in states[1:]:
                desk.keys("ctrl+shift+z")
                until(lambda: desk.names() == wanted, lambda: f"done again: {wanted}, not {desk.names()}")

    def test_down_goes_to_the_next_radio_at_the_start(self):
        with self.desk(SAMPLE) as desk:
            desk.judged()
            self.assertEqual(desk.chosen(), 0)
            desk.keys("Down")
            until(lambda: desk.chosen() == 1, lambda: f"Down chose row {desk.chosen()}")

    def test_a_removal_is_told_and_taken_back(self):
        with self.desk(SAMPLE) as desk:
            desk.judged()
            before = desk.names()
            desk.choose(1)
            desk.keys("ctrl+Delete")
            until(lambda: "Tulvannick removed." in labels(desk.window), "it is told")
            toast = next(one for one in below(desk.window) if name(one) == "Tulvannick removed." and role(one) != "label")
            act(desk.get("push button", "Undo", toast))
            until(lambda: desk.names() == before, "taken back")
            until(lambda: "Tulvannick removed." not in labels(desk.window), "and told no more")

    def test_wrong_value_changes_nothing(self):
        with self.desk(SAMPLE) as desk:
            desk.judged()
            before = desk.radios()
            desk.do("win.edit-condition")
            dialog = desk.dialog()
            desk.write(desk.get("text", "rated power", dialog), "plenty", dialog)
            until(lambda: any("plenty" in words for words in labels(dialog)), "it says what is wrong")
            desk.keys("Escape", "Escape", window=dialog)
            desk.gone(dialog)
            self.assertEqual(desk.radios(), before)
            self.assertFalse(has(desk.get("push button", "Undo"), Atspi.StateType.SENSITIVE))


class Keeping(Case):
    def test_saved_and_opened_again(self):
        book = self.place("evening.benchbook")
        with self.desk(SAMPLE, answers=[book]) as desk:
            self.assertEqual(desk.state(), "not saved yet")
            desk.keys("ctrl+s")
            until(lambda: desk.state() == "saved", "saved")
            desk.choose(1)
            desk.do("win.duplicate")
            until(lambda: len(desk.names()) == 8, "duplicated")
            until(lambda: desk.state() == "saved", "saved by itself")
            names = desk.names()
            desk.close()
        self.assertEqual([found["name"] for found in judge(book)][:2], ["Zelbridor", "Tulvannick/2 m"])
        with self.desk() as desk:  # the last book
            self.assertEqual(until(lambda: len(desk.radios()) == 8 and desk.names(), "its radios"), names)
            desk.keys("ctrl+z")
            until(lambda: len(desk.names()) == 7, "the edit of last time undone")


class Importing(Case):
    MADE = {"Fennick-2m-keyed.csv": "tulvannick.csv", "Gorsal-6m-keyed.csv": "zelbridor.csv", "Ostrev-2m-keyed.txt": "larquedon.txt"}

    def exports(self):
        """Three of the sample's exports under other names, each with one byte more, and one that is no export."""
        for made, of in self.MADE.items():
            with open(os.path.join(os.path.dirname(SAMPLE), "raw", of), "rb") as file, open(self.place(made), "wb") as copy:
                copy.write(file.read() + b"\n")
        with open(self.place("Notes-2m-keyed.csv"), "w", encoding="utf-8") as file:
            file.write("Frequency (MHz),Level (dBm)\n10,-50\n20,about -60\n30,-55\n")
        return [self.place(one) for one in (*self.MADE, "Notes-2m-keyed.csv")]

    def test_three_exports(self):
        book = self.place("evening.benchbook")
        with self.desk(SAMPLE, answers=[";".join(self.exports()), book]) as desk:
            desk.judged()
            before = desk.radios()
            desk.keys("ctrl+i")
            dialog = desk.dialog("Import")
            accept = until(lambda: desk.find("push button", "Import 3 sweeps", dialog), "three of the four can be taken")
            until(lambda: has(accept, Atspi.StateType.SENSITIVE), "all are read")
            sweeps = desk.get("list", "Sweeps to import", dialog)
            rows = [" ".join(labels(row)) for row in children(sweeps) if row.get_role_name() == "list item"]
            self.assertEqual(len(rows), 4)
            fourth = next(i for i, row in enumerate(rows) if "Notes" in row)
            Atspi.Selection.select_child(sweeps, fourth)
            until(lambda: any("Notes-2m-keyed.csv:3:" in words and "about -60" in words for words in labels(dialog)), "what is wrong, and where")
            act(accept)
            desk.gone(dialog)
            until(lambda: len(desk.radios()) == 10, "ten rows")
            desk.do("win.save-as")
            until(lambda: desk.state() == "saved", "saved")
            rows = desk.radios()
            self.assertEqual([row[0] for row in rows[7:]], ["Fennick", "Gorsal", "Ostrev"])
            self.assertEqual([row[2] for row in rows[7:]], [before[i][2] for i in (1, 0, 2)], "as those that they are copies of")
            self.assertEqual([row[3] for row in rows[7:]], [before[1][3], "not proven", before[2][3]], "but for the close sweep that one of them is without")
            desk.close()
        judged = [(found["radio"], found["condition"], found["verdict"]) for found in judge(book)]
        self.assertEqual([(row[0], row[1], row[3]) for row in rows], judged)
        with self.desk() as desk:
            until(lambda: desk.radios() == rows, "the book with them")
            desk.keys("ctrl+z")
            until(lambda: desk.radios() == before, "one undo takes all three back")


class Files(Case):
    def spoiled(self):
        """The sample's sheet beside its files, with one line that cannot be understood."""
        shutil.copytree(os.path.dirname(SAMPLE), self.place("samples"))
        path = self.place("samples", "spoiled.sheet")
        with open(SAMPLE, encoding="utf-8") as file:
            lines = file.read().split("\n")
        at = lines.index("rule=guarded")
        lines[at] = "rule=by eye"
        with open(path, "w", encoding="utf-8") as file:
            file.write("\n".join(lines))
        return path, at + 1

    def test_unreadable_changes_nothing(self):
        sheet, line = self.spoiled()
        book = self.place("spoiled.benchbook")
        with open(book, "wb") as file:
            file.write(b"SQLite format 3\0" + b"nothing of the kind" * 99)
        with self.desk(SAMPLE, answers=[sheet, book]) as desk:
            desk.choose(2)
            before = desk.radios(), desk.ledger(), desk.window.get_name(), desk.state()
            for key, words in (("ctrl+o", [f"spoiled.sheet:{line}:", "by eye"]), ("ctrl+o", ["spoiled.benchbook"])):
                desk.keys(key)
                said = until(lambda: desk.bar() and all(word in desk.bar() for word in words) and desk.bar(), f"the bar says {words}")
                self.assertGreater(len(said), 40)
                self.assertEqual((desk.radios(), desk.ledger(), desk.window.get_name(), desk.state()), before)
                self.assertEqual(desk.chosen(), 2)
                act(desk.get("push button", "Close", within=desk.content()))
                until(lambda: desk.bar() is None, "the bar is closed")
        with self.desk(sheet, home=self.place("other")) as desk:
            until(lambda: desk.bar() and f"spoiled.sheet:{line}:" in desk.bar(), "the bar says it of a file given at the start too")
            until(lambda: "blind: nothing has been looked at yet" in labels(desk.content()), "an empty book")
            self.assertIsNone(desk.find("list", "Radios"))

    def test_spreadsheet_and_picture(self):
        places = [self.place(one) for one in ("report.xlsx", "chart.png", "chart.svg", "chart.bmp")]
        with self.desk(SAMPLE, answers=places) as desk:
            desk.keys("ctrl+e", does="win.spreadsheet")
            until(lambda: os.path.exists(places[0]), "the spreadsheet")
            with zipfile.ZipFile(places[0]) as book:
                self.assertIsNone(book.testzip())
                summary = book.read("xl/worksheets/sheet1.xml").decode()
            for radio in desk.radios():
                self.assertIn(radio[0], summary)
                self.assertIn(radio[3], summary)
            desk.keys("ctrl+shift+e", does="win.picture")
            until(lambda: os.path.exists(places[1]), "the picture")
            with open(places[1], "rb") as file:
                head = file.read(24)
            self.assertEqual(head[:8], b"\x89PNG\r\n\x1a\n")
            self.assertEqual(struct.unpack(">II", head[16:]), (1600, 1000))
            desk.do("win.picture")
            until(lambda: os.path.exists(places[2]), "the picture as SVG")
            desk.do("win.picture")
            until(lambda: desk.bar() and "chart.bmp" in desk.bar(), "the bar says that this is no kind of picture")
            self.assertFalse(os.path.exists(places[3]))

    def test_first_start(self):
        with self.desk(hint=True) as desk:
            until(lambda: len(desk.radios()) == 7, "the sample")
            act(desk.get("push button", "Understood"))
            until(lambda: not desk.find("push button", "Understood"), "the three steps go away")
            desk.close()
        with self.desk() as desk:
            until(lambda: len(desk.radios()) == 7, "the sample again: there is no book yet")
            self.assertIsNone(desk.find("push button", "Understood"))


if __name__ == "__main__":
    counted.main()
