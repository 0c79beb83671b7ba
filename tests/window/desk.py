"""The window as a person without a mouse meets it: started as a program, read through the accessibility tree, driven by actions and keys.

Nothing here sleeps for a fixed time: until() asks again until a condition holds, with a limit that only ends what hangs.
"""
import os
import re
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import time

try:
    import gi
    gi.require_version("Atspi", "2.0")
    from gi.repository import Atspi, GLib
except (ImportError, ValueError) as missing:
    print(f"skipped: {missing}", file=sys.stderr)
    sys.exit(77)
for tool in ("xdotool", "import", "convert"):
    if not shutil.which(tool):
        print(f"skipped: no {tool}", file=sys.stderr)
        sys.exit(77)

ROOT = os.environ["SP_SOURCE_ROOT"]
BUILD = os.environ["SP_BUILD_ROOT"]
SAMPLE = os.path.join(ROOT, "samples", "club.sheet")
PROGRAM = os.path.join(BUILD, "app", "spurproof")
BATCH = os.path.join(BUILD, "app", "spurproof-batch")
LIMIT_S = 600  # ends only what hangs
AGAIN_S = 0.03
AGAIN_PART = 0.15  # of what one has waited: a look at the tree is the program's work too
# GTK 4.8 gives the type's name where nobody gave one.
UNNAMED = re.compile(r"^((Gtk|Sp)[A-Z]\w*)?$")

Atspi.init()
Atspi.set_timeout(LIMIT_S * 1000, LIMIT_S * 1000)


def until(condition, what, limit=LIMIT_S):
    """The condition's first true value. Widgets that go away while they are asked are asked again."""
    begin = time.monotonic()
    while True:
        try:
            value = condition()
        except GLib.Error:
            value = None
        if value:
            return value
        waited = time.monotonic() - begin
        if waited > limit:
            raise AssertionError(f"not within {limit} s: {what() if callable(what) else what}")
        time.sleep(max(AGAIN_S, AGAIN_PART * waited))


def steady(read):
    """What read() gives; again where a widget went away meanwhile."""
    return until(lambda: (read(),), "a look at the tree without a change of it")[0]


def children(node):
    found = (node.get_child_at_index(i) for i in range(node.get_child_count()))
    return [child for child in found if child]


def walk(node, leave=()):
    """The node and everything in it with their roles, top down; but nothing of what is in the roles to leave. Each question is a call to the program and
    back, so none is asked twice, and nothing is looked for in a label."""
    what = role(node)
    yield node, what
    if what not in leave and what != "label":
        for child in children(node):
            yield from walk(child, leave)


def below(node, leave=()):
    return (one for one, _ in walk(node, leave))


def among(node, what, leave=()):
    """All of a role, top down."""
    return (one for one, found in walk(node, leave) if found == what)


def role(node):
    return node.get_role_name()


def name(node):
    """What a screen reader would say; empty where nobody gave a name."""
    given = node.get_name() or ""
    return "" if UNNAMED.match(given) else given


def has(node, state):
    return node.get_state_set().contains(state)


def labels(node):
    """The words in it, in order; empty ones too."""
    return [name(one) for one in among(node, "label")]


def rows(node):
    """The words of each row of the table in it, its head left out."""
    return [tuple(labels(row)) for row in among(node, "table row", leave=("table row",))][1:]


def written(entry):
    return Atspi.Text.get_text(entry, 0, Atspi.Text.get_character_count(entry))


def actions(node):
    return [Atspi.Action.get_action_name(node, i) for i in range(Atspi.Action.get_n_actions(node))]


def act(node, action="click"):
    def found():  # an action that becomes enabled meanwhile moves the others' places
        names = actions(node)
        return names if action in names else None
    names = until(found, lambda: f"{role(node)} “{name(node)}” can {action}, not only {actions(node)}")
    Atspi.Action.do_action(node, names.index(action))


class Desk:
    """The program in a home of its own. `answers`: what the questions for files are answered with, in turn."""

    def __init__(self, *arguments, home=None, answers=(), theme="light", scale=1, hint=False, preferences="", bands=False):
        self.home = home or tempfile.mkdtemp(prefix="desk")
        self.errors = tempfile.TemporaryFile()
        config = os.path.join(self.home, "config", "spurproof")
        if not os.path.exists(config):
            os.makedirs(config)
            with open(os.path.join(config, "preferences"), "w", encoding="utf-8") as file:
                file.write(f"[window]\ntheme={theme}\n" + ("" if hint else "hint=read\n") + ("" if bands else "list-bands=apart\n") + preferences)
        printing = os.path.join(self.home, "config", "gtk-4.0", "settings.ini")
        os.makedirs(os.path.dirname(printing), exist_ok=True)
        with open(printing, "w", encoding="utf-8") as file:
            file.write("[Settings]\ngtk-print-backends=file\n")  # whatever printers there are: nothing here comes out of one
        env = dict(os.environ, XDG_CONFIG_HOME=os.path.join(self.home, "config"), XDG_DATA_HOME=os.path.join(self.home, "data"),
                   GDK_SCALE=str(scale),
                   SPURPROOF_SAMPLES=os.path.join(ROOT, "samples"), SPURPROOF_TEST_ANSWER=":".join(answers), LC_ALL="C.UTF-8")
        # where the last test left the pointer, a tooltip would open: a window more
        subprocess.run(["xdotool", "mousemove", "2879", "1799"], check=True)
        # Python ignores SIGXFSZ, and so shall the program: full() makes its writes fail
        self.program = subprocess.Popen([PROGRAM, *arguments], env=env, stdin=subprocess.DEVNULL, stdout=self.errors, stderr=self.errors,
                                        restore_signals=False)
        self.application = until(self._application, "the program in the accessibility tree")
        self.window = until(self._window, "its window")

    def __enter__(self):
        return self

    def __exit__(self, failed, *what):
        self.kill()
        said = self.said()
        if said and not failed:
            raise AssertionError(f"the program wrote: {said}")

    def _application(self):
        if self.program.poll() is not None:
            raise AssertionError(f"the program ended by itself with {self.program.returncode}: {self.said()}")
        return next((one for one in children(Atspi.get_desktop(0)) if one.get_process_id() == self.program.pid), None)

    def _window(self):
        return next((one for one in children(self.application) if "win.save-as" in actions(one)), None)

    # ---- its ends ----

    def said(self):
        """All that it wrote: a program with a window has nothing to write."""
        self.errors.seek(0)
        return self.errors.read().decode("utf-8", "replace")

    def print_to_file(self):
        """In the desktop's own dialog, which is open: the only printer is a file, output.pdf in the folder that the program was started in."""
        dialog = self.dialog("Print")

        def printer():
            rows = among(dialog, "table row", leave=("table row",))
            return next((one for one in rows if "Print to File" in labels(one)), None)
        row = until(printer, "the printer that is a file")
        Atspi.Selection.select_child(row.get_parent(), row.get_index_in_parent())
        act(until(lambda: next((one for one in among(dialog, "push button") if name(one).endswith("Print") and has(one, Atspi.StateType.SENSITIVE)), None),
                  "it can be printed"))
        self.gone(dialog)

    def full(self, full):
        """Nothing can be written any more, as on a full disk; or it can again."""
        most = 0 if full else resource.RLIM_INFINITY
        resource.prlimit(self.program.pid, resource.RLIMIT_FSIZE, (most, resource.RLIM_INFINITY))

    def kill(self):
        if self.program.poll() is None:
            self.program.send_signal(signal.SIGKILL)
        self.program.wait()

    def close(self):
        """As by the window's own button; the program ends."""
        try:
            act(self.window, "window.close")
        except GLib.Error:  # it may be gone before it has answered
            pass
        self.ends()

    def told(self, number):
        """To end, by that signal; it does."""
        self.program.send_signal(number)
        until(lambda: self.program.poll() is not None, "the program ends as it is told")
        if self.program.returncode != -number:
            raise AssertionError(f"the program ended with {self.program.returncode}: {self.said()}")

    def ends(self):
        until(lambda: self.program.poll() is not None, "the program ends after its window is closed")
        if self.program.returncode != 0:
            raise AssertionError(f"the program ended with {self.program.returncode}: {self.said()}")

    # ---- what there is ----

    def find(self, what, called=None, within=None, showing=True):
        """The first of a role whose name begins so; None. Tables are long: nothing is looked for in them."""
        for one in among(within or self.window, what, leave=("tree table",)):
            if called and not name(one).startswith(called):
                continue
            if not showing or has(one, Atspi.StateType.VISIBLE):
                return one
        return None

    def get(self, what, called=None, within=None):
        return until(lambda: self.find(what, called, within), f"a {what} “{called}”")

    def dialog(self, called=""):
        """A window beside the main one."""
        def other():
            return next((one for one in children(self.application) if one != self.window and name(one).startswith(called)), None)
        return until(other, f"a dialog “{called}”")

    def gone(self, dialog):
        until(lambda: dialog not in children(self.application), "the dialog goes away")

    def radios(self):
        """The list as it reads: radio, condition, margin, verdict of each row."""
        def of(row):
            """Where the condition leads, as its radio has several, the row is named by both."""
            words = labels(row)
            turned = len(words) > 1 and name(row).startswith(f"{words[1]}/{words[0]}:")
            return tuple([words[1], words[0]] + words[2:] if turned else words)
        return steady(lambda: [of(row) for row in children(self.get("list", "Radios")) if role(row) == "list item"])

    def judged(self):
        """Until each row has its verdict: what asks about findings does nothing before."""
        until(lambda: self.radios() and all(len(row) > 3 and row[3] for row in self.radios()), "all is judged")

    def names(self):
        return ["/".join(part for part in row[:2] if part) for row in self.radios()]

    def chosen(self):
        def look():
            rows = [row for row in children(self.get("list", "Radios")) if role(row) == "list item"]
            return next((i for i, row in enumerate(rows) if has(row, Atspi.StateType.SELECTED)), None)
        return steady(look)

    def choose(self, index):
        until(lambda: len(self.names()) > index, f"there are more than {index} rows")
        Atspi.Selection.select_child(self.get("list", "Radios"), index)
        until(lambda: self.chosen() == index, f"row {index} is chosen")

    def ledger(self):
        """The table of emissions: a row of words for each."""
        return steady(lambda: rows(self.get("tree table", "Emissions")))

    def bar(self):
        """What the bar for trouble says; None: it is not there."""
        def look():
            button = self.find("push button", "Close", within=self.content())
            return " ".join(labels(button.get_parent())) if button else None
        return steady(look)

    def unsaved(self):
        """What the bar of a book that cannot be saved says; None: it is not there."""
        def look():
            button = self.find("push button", "Save as", within=self.content())
            return " ".join(labels(button.get_parent())) if button else None
        return steady(look)

    def offered(self):
        """What the bar of books without a name says; None: it is not there."""
        def look():
            button = self.find("push button", "Later", within=self.content())
            return " ".join(labels(button.get_parent().get_parent())) if button else None
        return steady(look)

    def content(self):
        """The window without its header, where a button Close is another."""
        return children(self.window)[0]

    def state(self):
        """'saved', 'saving…', 'kept, no name' and so on: beside the title."""
        words = ("saved", "saving…", "not saved yet", "not saved", "kept, no name", "a copy")
        return steady(lambda: next((word for part in children(self.window)[1:] for word in labels(part) if word in words), None))

    # ---- how it looks ----

    def id_of(self, window=None):
        """X11's number of a window of the program."""
        title = (window or self.window).get_name()
        found = subprocess.run(["xdotool", "search", "--onlyvisible", "--pid", str(self.program.pid), "--name", f"^{re.escape(title)}$"],
                               capture_output=True, text=True, check=False).stdout.split()
        return found[-1] if found else None

    def resize(self, width, height):
        """In pixels of the screen, which are more than the window's own at a scale of 2."""
        number = until(self.id_of, "the window is on the screen")
        subprocess.run(["xdotool", "windowmove", number, "0", "0", "windowsize", number, str(width), str(height)], check=True)

    def picture(self, window=None, of=None):
        """The window's pixels, or one widget's (at a scale of 1), once they stand still: bytes of a PPM file."""
        number = until(lambda: self.id_of(window), "the window is on the screen")
        place = Atspi.Component.get_extents(of, Atspi.CoordType.WINDOW) if of else None
        part = ["-crop", f"{place.width}x{place.height}+{place.x}+{place.y}"] if of else []
        seen = [None]

        def still():
            before = seen[0]
            shot = subprocess.run(["import", "-silent", "-window", number, *part, "-depth", "8", "ppm:-"], capture_output=True, check=False)
            seen[0] = shot.stdout if shot.returncode == 0 else None
            return seen[0] is not None and seen[0] == before
        until(still, "the window stands still")
        return seen[0]

    # ---- what one does ----

    def do(self, action):
        act(until(lambda: action in actions(self.window) and self.window, f"{action} is enabled"), action)

    def focus(self, window=None):
        """There is no window manager: the window is given the focus, and the main one says when it knows. Its number."""
        number = until(lambda: self.id_of(window), "the window is on the screen")
        subprocess.run(["xdotool", "windowfocus", "--sync", number], check=True)
        until(lambda: window or has(self.window, Atspi.StateType.ACTIVE), "the window has the focus")
        return number

    def keys(self, *keys, window=None, does=None):
        """Real keys, to the window that has them. `does`: the action of the first, which may be disabled yet."""
        until(lambda: not does or does in actions(self.window), f"{does} is enabled")
        self.focus(window)
        subprocess.run(["xdotool", "key", "--clearmodifiers", *keys], check=True)

    def click(self, widget, dialog):
        """Into the middle of a widget, by mouse."""
        place = Atspi.Component.get_extents(widget, Atspi.CoordType.WINDOW)
        number = self.focus(dialog)
        subprocess.run(["xdotool", "mousemove", "--window", number, str(place.x + place.width // 2), str(place.y + place.height // 2), "click", "1"], check=True)

    def write(self, entry, text, dialog):
        """Into an entry, by mouse and keys, and Enter. (Setting an entry's text from outside is no typing: nothing is entered by it.)"""
        place = Atspi.Component.get_extents(entry, Atspi.CoordType.WINDOW)
        number = until(lambda: self.id_of(dialog), "the dialog is on the screen")
        subprocess.run(["xdotool", "windowfocus", "--sync", number, "mousemove", "--window", number, str(place.x + place.width // 2),
                        str(place.y + place.height // 2), "click", "1"], check=True)
        until(lambda: has(entry, Atspi.StateType.FOCUSED), f"{name(entry)} has the focus")
        subprocess.run(["xdotool", "key", "ctrl+a", "type", "--delay", "2", "--", text], check=True)
        until(lambda: written(entry) == text, f"{text} stands in {name(entry)}")
        subprocess.run(["xdotool", "key", "Return"], check=True)
