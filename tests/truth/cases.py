"""What a case is, and the helpers that several cases share."""
import os
import traceback

import numpy as np

from bench import Folder

CASES = []

# A plain ceiling: 25 uW for everything from 1 MHz up, and a class for no power at all. Harmonics to the 3rd, so that short sweeps tell everything.
LIMIT = -16.0206


def mask(harmonics=3, search=None, exclude="0.5", rules=None, more=""):
    """A mask's text; `rules` [(name, lines)], else the ceiling."""
    rules = rules or [("1", f"fundamental=1MHz 3GHz\nattenuation_db=40\nceiling_dbm={LIMIT}")]
    text = f"[mask]\nname=Own limit\nclause=our own\nedition=2026\nharmonics={harmonics}\nexclude={exclude}\n"
    text += (f"search={search}\n" if search else "") + more
    return text + "".join(f"\n[rule {name}]\n{lines}\n" for name, lines in rules)


class World:
    """What a case works in: folders of its own, a seed, and the list of what it found."""

    def __init__(self, where, batch, seed):
        self.where, self.batch, self.seed = where, batch, seed
        self.rng = np.random.default_rng(seed)
        self.failed, self.said, self.judged, self.folders, self.last = [], [], [], 0, None

    def folder(self, *args, **keys):
        self.folders += 1
        self.last = Recorded(self, os.path.join(self.where, str(self.folders)), self.batch, self.rng, *args, **keys)
        return self.last

    def say(self, text):
        self.said.append(text)

    def must(self, held, what):
        """What has to hold; `what` says, in words, what did not."""
        if not held:
            self.failed.append(what)
        return bool(held)


class Recorded(Folder):
    """A folder that keeps what `judge` said, for the look at contradictions over all cases."""

    def __init__(self, world, *args, **keys):
        super().__init__(*args, **keys)
        self.world = world

    def load(self, *words):
        data = super().load(*words)
        if words[0] == "judge":
            self.world.judged.append(data)
        return data


class Case:
    def __init__(self, ident, truth, must, run):
        self.ident, self.truth, self.must, self.run = ident, truth, must, run

    def work(self, where, batch, seed):
        """(what failed, what the program said, what was judged)."""
        world = World(where, batch, seed)
        try:
            self.run(world)
        except Exception as error:  # a case that breaks off has failed, and the others go on
            where_it_was = traceback.extract_tb(error.__traceback__)[-1]
            world.failed.append(f"broke off: {type(error).__name__}: {error} ({os.path.basename(where_it_was.filename)}:{where_it_was.lineno})")
        if not world.said and not world.failed:
            world.failed.append("the case said nothing")
        return world.failed, world.said, world.judged


def case(ident, truth, must, over=None):
    """Registers a function of a World as a case, or one case for each of `over` (whose value it then gets, and which `{}` stands for in the texts)."""
    def register(function):
        for value in [None] if over is None else over:
            texts = [text.format(value) if over is not None else text for text in (ident, truth, must)]
            run = function if over is None else (lambda world, value=value: function(world, value))
            CASES.append(Case(texts[0], texts[1], texts[2], run))
        return function
    return register


def number(value, digits=2):
    return "null" if value is None else f"{value:+.{digits}f}"


def told(condition):
    """A condition in short: verdict, margin, gaps."""
    text = f"{condition['verdict']} {number(condition['worst_margin_db'])}"
    gaps = condition["gaps"]
    if gaps:
        text += ", gaps " + "; ".join(f"{g['from_hz'] / 1e6:.6g}-{g['to_hz'] / 1e6:.6g} MHz {g['why']}" for g in gaps[:3]) + (" ..." if len(gaps) > 3 else "")
    else:
        text += ", no gap"
    return text


def seen(emission):
    """An emission in short."""
    if emission is None:
        return "not listed"
    what = "spur" if emission["order"] is None else f"order {emission['order']}"
    return (f"{what} {emission['frequency_hz'] / 1e6:.6g} MHz {number(emission['level_dbm'])} +- {number(emission['expanded_db'])[1:]} dBm, "
            f"limit {number(emission['limit_dbm'])}, {emission['origin']}, {emission['verdict']}")


def level_holds(emission, truth, slack=0.0):
    """Does level +- U hold the truth, or does a bound lie on its side of it?"""
    if emission is None or emission["level_dbm"] is None or emission["expanded_db"] is None:
        return False
    off, reach = emission["level_dbm"] - truth, emission["expanded_db"] + slack
    higher, lower = emission.get("may_be_higher_by_db") or 0.0, emission.get("may_be_lower_by_db") or 0.0
    bound = emission.get("bound")
    return (bound == "upper" or off <= reach + lower) and (bound == "lower" or off >= -reach - higher)


def codes(*holders):
    return {warning["code"] for holder in holders for warning in holder["warnings"]}
