#!/usr/bin/python3
"""The budget's window through the accessibility tree: what budget --json says is what can be read there, it follows the choice, the chain opens by
key, draws come beside it and can be stopped, nothing is without a name; pictures in BUILD/window-pictures."""
import json
import os
import subprocess
import sys

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path[:0] = [HERE, os.path.join(HERE, "..")]
import counted  # noqa: E402
from desk import BATCH, BUILD, SAMPLE, Atspi, act, below, has, labels, name, role, until  # noqa: E402
from looks import unnamed  # noqa: E402
from window import Case, number  # noqa: E402

PICTURES = os.path.join(BUILD, "window-pictures")


def budget(*words):
    run = subprocess.run([BATCH, "budget", SAMPLE, *words, "--json"], capture_output=True, text=True, check=True)
    return json.loads(run.stdout)


class Budget(Case):
    def opened(self, desk, radio):
        desk.choose(radio)
        desk.judged()
        desk.keys("F5")  # the deciding harmonic is chosen with its radio
        return desk.dialog("Uncertainty budget")

    def keep(self, desk, dialog, what):
        os.makedirs(PICTURES, exist_ok=True)
        with open(os.path.join(PICTURES, what + ".png"), "wb") as file:
            file.write(subprocess.run(["convert", "ppm:-", "png:-"], input=desk.picture(dialog), capture_output=True, check=True).stdout)

    def row(self, dialog, first):
        """The cells behind the one that reads `first`."""
        shown = labels(dialog)
        self.assertIn(first, shown)
        at = shown.index(first)
        return shown[at + 1:at + 11]

    def test_what_the_command_says(self):
        with self.desk(SAMPLE) as desk:
            dialog = self.opened(desk, 2)
            said = budget("--radio", "Larquedon", "--order", "2")
            until(lambda: "U = k u" in labels(dialog), "the sums are there")
            self.assertEqual(unnamed(dialog), [])
            self.assertTrue(any("Larquedon, 2nd harmonic" in one for one in labels(dialog)), labels(dialog)[:5])
            for term in said["terms"]:
                cells = self.row(dialog, term["text"])
                self.close_to(cells[0], term["estimate_db"], 2, term["term"])
                self.close_to(cells[1], term["width_db"], 3, term["term"])
                self.close_to(cells[4], term["u_db"], 4, term["term"])
                self.assertEqual(cells[7] == "in its part", term["in_radio_part"], term["term"])  # and none of the margin's
                self.close_to("0.0000" if term["in_radio_part"] else cells[7], term["margin_u_db"], 4, term["term"])
                self.assertEqual(cells[6] == "cancels", term["cancels_in_dbc"], term["term"])
            u, expanded = self.row(dialog, "u, root of the sum of squares"), self.row(dialog, "U = k u")
            for i, column in enumerate(("level", "power", "dbc", "margin")):
                self.close_to(u[4 + i], said["sums"][column]["u_db"], 4, column)
                self.close_to(expanded[4 + i], said["sums"][column]["expanded_db"], 4, column)
            self.keep(desk, dialog, "budget light")

    def test_follows_and_closes(self):
        with self.desk(SAMPLE, theme="dark") as desk:
            dialog = self.opened(desk, 2)
            desk.choose(0)
            until(lambda: any(one.startswith("Zelbridor, ") for one in labels(dialog)), "it follows the choice")
            desk.keys("Home", "Down", "Down", "Down", "Down", "Return", window=dialog)
            self.keep(desk, dialog, "budget dark")
            desk.keys("Escape", window=dialog)
            desk.gone(dialog)

    def test_the_chain_opens(self):
        with self.desk(SAMPLE) as desk:
            dialog = self.opened(desk, 2)
            until(lambda: "the chain's calibration" in labels(dialog), "the terms are there")
            tables = [one for one in below(dialog) if role(one) in ("list", "tree table", "table") and has(one, Atspi.StateType.FOCUSABLE)]
            self.assertTrue(tables and all(name(one) for one in tables))
            for _ in range(30):  # down to the chain's row
                if any("thimble" == one for one in labels(dialog)):
                    break
                desk.keys("Down", "Return", window=dialog)
            self.assertIn("thimble", labels(dialog))

    def test_draws(self):
        with self.desk(SAMPLE) as desk:
            dialog = self.opened(desk, 2)
            act(desk.get("push button", "Draw by Monte Carlo", dialog))
            until(lambda: "drawn: u" in labels(dialog), "the draws are there")
            said = budget("--radio", "Larquedon", "--order", "2", "--monte-carlo", "200000", "--seed", "1")["monte_carlo"]
            for i, column in enumerate(("level", "power", "dbc", "margin")):
                self.close_to(self.row(dialog, "drawn: u")[4 + i], said[column]["u_db"], 4, column)
            self.assertTrue(any("of them" in one for one in labels(dialog)))
            self.keep(desk, dialog, "budget drawn")


if __name__ == "__main__":
    counted.main()
