#!/usr/bin/python3
"""What would move with another chain, in the window: as compare --with says it; nothing is edited; a file that is none is told; pictures."""
import json
import os
import subprocess
import sys

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path[:0] = [HERE, os.path.join(HERE, "..")]
import counted  # noqa: E402
from desk import BATCH, BUILD, ROOT, SAMPLE, act, among, labels, rows, steady, until  # noqa: E402
from looks import unnamed  # noqa: E402
from window import Case  # noqa: E402

PICTURES = os.path.join(BUILD, "window-pictures")


class Moves(Case):
    def other_chain(self):
        """The sample's chain with two decibels more in its first pad."""
        with open(os.path.join(ROOT, "samples", "club.chain"), encoding="utf-8") as file:
            lines = file.read().split("\n")
        at = [i for i, line in enumerate(lines) if line.startswith("points=")][0]
        points = [point.split() for point in lines[at][len("points="):].split(";")]
        lines[at] = "points=" + "; ".join(" ".join([p[0], f"{float(p[1]) + 2:.2f}", *p[2:]]) for p in points)
        path = self.place("two-more.chain")
        with open(path, "w", encoding="utf-8") as file:
            file.write("\n".join(lines))
        return path

    def rows(self, dialog):
        return steady(lambda: rows(dialog))

    def shown(self, theme, picture):
        other = self.other_chain()
        run = subprocess.run([BATCH, "compare", SAMPLE, "--with", other, "--json"], capture_output=True, text=True, check=True)
        said = json.loads(run.stdout)
        with self.desk(SAMPLE, answers=[other], theme=theme) as desk:
            before = until(desk.radios, "judged")
            desk.keys("ctrl+m", does="win.moves")
            dialog = desk.dialog("What would move")
            until(lambda: any("would move" in one for one in labels(dialog)), "it says what moves")
            flips = sum(one["flips"] for one in said["moved"]), sum(one["flips"] for one in said["conditions_moved"])
            self.assertTrue(any(f"verdicts flip: {flips[0]} of emissions, {flips[1]} of conditions" in one for one in labels(dialog)),
                            labels(dialog)[:3])
            self.assertTrue(any(said["conditions_moved"][0]["chain_after_sha256"][:12] in one for one in labels(dialog)))
            until(lambda: len(self.rows(dialog)) > 5, "the rows are there")
            first, whole = self.rows(dialog)[0], said["conditions_moved"][0]
            self.assertEqual((first[0], first[7], first[8]), (whole["name"], whole["verdict_before"], whole["verdict_after"]))
            self.close_to(first[2].lstrip("+"), whole["power_change_db"], 2, "power")
            self.rows_by_choice(desk, dialog, said)
            self.assertEqual(unnamed(dialog), [])
            os.makedirs(PICTURES, exist_ok=True)
            with open(os.path.join(PICTURES, picture), "wb") as file:
                file.write(subprocess.run(["convert", "ppm:-", "png:-"], input=desk.picture(dialog), capture_output=True, check=True).stdout)
            desk.keys("Escape", window=dialog)
            desk.gone(dialog)
            self.assertEqual(desk.radios(), before)

    def rows_by_choice(self, desk, dialog, said):
        """What moves alike is one row; by choice every emission, or only what flips or moves beyond U: as compare --show has it."""
        alone = [one for one in said["moved"] if "alike" not in one]
        notable = [one for key in ("moved", "conditions_moved") for one in said[key] if one["notable"]]
        together = len(said["conditions_moved"]) + len(alone) + len(said["alike"])
        self.assertEqual([len(self.rows(dialog)), sum(row[0] == "alike" for row in self.rows(dialog))], [together, len(said["alike"])])
        choice = next(among(dialog, "combo box"))
        for key, number in (("Down", len(said["conditions_moved"]) + len(said["moved"])), ("Down", len(notable))):
            desk.click(choice, dialog)
            desk.keys(key, "Return", window=dialog)
            until(lambda: len(self.rows(dialog)) == number, f"{number} rows")

    def test_light(self):
        self.shown("light", "moves light.png")

    def test_dark(self):
        self.shown("dark", "moves dark.png")

    def test_from_the_page_and_bad(self):
        bad = self.place("none.chain")
        with open(bad, "w", encoding="utf-8") as file:
            file.write("[chain]\nstages=nowhere\n")
        with self.desk(SAMPLE, answers=[bad]) as desk:
            act(desk.get("page tab", "Compare"))
            desk.judged()
            act(desk.get("push button", "With another chain"))
            until(lambda: "none.chain" in (desk.bar() or ""), "what is wrong is told")
            self.assertIn("nowhere", desk.bar())


if __name__ == "__main__":
    counted.main()
