#!/usr/bin/python3
"""What can have the focus has a name, every action has a key, nothing is written to standard error in either theme; and pictures of every
page and dialog, light and dark, at two sizes and two scales, in BUILD/window-pictures, to be looked at."""
import os
import re
import subprocess
import sys
import unittest

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path[:0] = [HERE, os.path.join(HERE, "..")]
import counted  # noqa: E402
from desk import BUILD, ROOT, SAMPLE, Atspi, act, actions, among, children, has, name, role, until, walk  # noqa: E402
from window import Case  # noqa: E402

PICTURES = os.path.join(BUILD, "window-pictures")
PAGES = ("Spectrum", "Chain", "Range", "Compare")
SIZES = ((1024, 640), (1440, 900))
DIALOGS = {"win.edit-condition": "condition", "win.edit-bench": "bench", "win.edit-analyzer": "analyzer", "win.check-analyzer": "check",
           "win.about": "about", "win.show-help-overlay": "keys"}
NAMED = {"push button", "toggle button", "check box", "radio button", "text", "entry", "password text", "spin button", "combo box", "list",
         "list box", "tree table", "table", "page tab", "image", "slider"}


def unnamed(node):
    """What can be reached and says nothing of itself, as role and the named things above it."""
    found = []

    def look(one, path):
        called = name(one)
        here = path + ([called] if called else [])
        what = role(one)
        if what in NAMED and not called and has(one, Atspi.StateType.FOCUSABLE):
            found.append(f"{what} in {' > '.join(here)}")
        for child in children(one) if what != "label" else ():
            look(child, here)
    look(node, [])
    return found


class Names(Case):
    def go_to(self, desk, page):
        act(desk.get("page tab", page))
        until(lambda: has(desk.get("page tab", page), Atspi.StateType.SELECTED), f"page {page}")

    def test_pages(self):
        with self.desk(SAMPLE) as desk:
            for page in PAGES:
                self.go_to(desk, page)
                lists = ("list", "list box", "tree table")
                until(lambda: any(what in lists for _, what in walk(desk.content())), f"page {page} is filled")
                desk.picture()
                self.assertEqual(unnamed(desk.window), [], page)

    def test_import(self):
        with self.desk(SAMPLE, answers=[os.path.join(os.path.dirname(SAMPLE), "raw")]) as desk:
            desk.do("win.import")
            dialog = desk.dialog("Import")
            until(lambda: desk.find("push button", "Import", dialog) and desk.find("list item", within=dialog), "files are read")
            desk.picture(dialog)
            self.assertEqual(unnamed(dialog), [])
            desk.keys("Escape", window=dialog)
            desk.gone(dialog)

    def test_dialogs(self):
        with self.desk(SAMPLE) as desk:
            for action in DIALOGS:
                desk.do(action)
                dialog = desk.dialog()
                self.assertTrue(name(dialog), f"{action} opens a window without a title")
                if action != "win.show-help-overlay":  # GTK's own window, with a search entry that it does not name
                    self.assertEqual(unnamed(dialog), [], action)
                desk.keys("Escape", window=dialog)
                desk.gone(dialog)


class Keys(Case):
    # key: a part of the title of what it opens
    OPENS = {"ctrl+question": "Keys", "shift+F1": "About", "F2": "Zelbridor", "ctrl+b": "", "ctrl+shift+b": "", "ctrl+shift+n": "Radio"}

    def accelerators(self):
        """Of the window's class, and of what goes before an entry's own undo: action, key as GTK writes it."""
        with open(os.path.join(ROOT, "ui", "window", "shell", "window-actions.c"), encoding="utf-8") as file:
            text = file.read()
        rows = re.findall(r'\{ "(win\.[\w-]+)", \w+, GDK_KEY_(\w+), ([^}]*?) \}', text)
        rows += [(action, key, masks) for key, masks, action in
                 re.findall(r'binding_action \(klass, GDK_KEY_(\w+), ([^,]*), "(win\.[\w-]+)", NULL\)', text)]  # properties of the session
        signs = {"GDK_CONTROL_MASK": "<Control>", "GDK_ALT_MASK": "<Alt>", "GDK_SHIFT_MASK": "<Shift>"}
        with open(os.path.join(ROOT, "ui", "window", "widgets", "entry.c"), encoding="utf-8") as file:
            undo = {("win.redo" if redo == "TRUE" else "win.undo"): key for key, redo in re.findall(r'\{ "(<[^"]*)", (FALSE|TRUE) \}', file.read())}
        return {action: "".join(sign for mask, sign in signs.items() if mask in masks) + key for action, key, masks in rows} | undo

    def shown(self):
        with open(os.path.join(ROOT, "ui", "window", "shell", "shortcuts.ui"), encoding="utf-8") as file:
            texts = re.findall(r'name="accelerator">([^<]*)<', file.read())
        return {key.replace("&lt;", "<").replace("&gt;", ">") for text in texts for key in text.split()}

    def test_every_action_has_a_key_that_is_shown(self):
        keys, shown = self.accelerators(), self.shown()
        self.assertGreater(len(keys), 20)
        hidden = {action: key for action, key in keys.items() if key not in shown}
        self.assertEqual(hidden, {}, "keys that the window of keys does not show")
        self.assertEqual(len(set(keys.values())), len(keys), "one key for two actions")
        with self.desk(SAMPLE) as desk:
            desk.choose(2)
            desk.do("win.duplicate")
            until(lambda: len(desk.names()) == 8, "duplicated")
            desk.judged()
            there = set(actions(desk.window))
            desk.do("win.undo")
            until(lambda: len(desk.names()) == 7, "undone")
            there |= set(actions(desk.window))
        own = {action for action in there if action.startswith("win.")} - {"win.show-help-overlay"}  # Ctrl+?
        self.assertEqual(own - set(keys), set(), "actions without a key")
        self.assertEqual(set(keys) - own, set(), "keys for what is not there")

    def test_keys_open(self):
        with self.desk(SAMPLE) as desk:
            desk.judged()
            for key, title in self.OPENS.items():
                desk.keys(key)
                dialog = desk.dialog(title)
                desk.keys("Escape", window=dialog)
                desk.gone(dialog)
            for i, page in ((2, "Chain"), (3, "Range"), (4, "Compare"), (1, "Spectrum")):
                desk.keys(f"alt+{i}")
                until(lambda: has(desk.get("page tab", page), Atspi.StateType.SELECTED), f"page {page}")
            chart = desk.get("image", "Spectrum")
            linear = desk.picture(of=chart)
            desk.keys("ctrl+l")
            self.assertFalse(desk.picture(of=chart) == linear, "a logarithmic axis")


def colours(pixels):
    """Width, height, and how many different pixels there are, and how bright they are between 0 and 1."""
    _, width, height, _ = pixels.split(maxsplit=4)[:4]
    body = pixels[-3 * int(width) * int(height):]
    some = [body[i:i + 3] for i in range(0, len(body), 3 * 97)]
    return int(width), int(height), len(set(some)), sum(sum(one) for one in some) / len(some) / 765


class Menus(Case):
    def open(self, desk, called):
        buttons = (one for one in among(desk.window, "push button", leave=("tree table",)) if name(one).startswith(called))
        button = next(one for one in buttons if has(one, Atspi.StateType.FOCUSABLE))
        act(button)
        return button.get_parent()

    def items(self, menu):
        return [one for one, what in walk(menu) if what.endswith("menu item")]

    def test_items(self):
        with self.desk(SAMPLE) as desk:
            for called, least in (("Menu", 10), ("Report", 2)):
                menu = self.open(desk, called)
                items = until(lambda: len(self.items(menu)) >= least and self.items(menu), f"what is in {called}")
                self.assertEqual([one for one in items if not name(one)], [])
                desk.keys("Escape")

    def test_paper(self):
        with self.desk(SAMPLE, home=self.place("home")) as desk:
            desk.resize(1024, 640)
            self.assertGreater(colours(desk.picture())[3], 0.5)
            for paper, dark in (("Dark", True), ("Light", False), ("Dark", True)):
                menu = self.open(desk, "Menu")
                act(until(lambda: next((one for one in self.items(menu) if name(one) == paper), None), f"{paper} in the menu"))
                until(lambda: (colours(desk.picture())[3] < 0.5) == dark, f"{paper} paper")
            desk.close()
        with self.desk(SAMPLE, home=self.place("home")) as desk:
            desk.resize(1024, 640)
            until(lambda: colours(desk.picture())[3] < 0.5, "dark paper is kept")


class Pictures(Case):
    """Of each page and dialog; what they show is for eyes. Checked: their size, their brightness, that there is something on them."""

    def save(self, pixels, title):
        os.makedirs(PICTURES, exist_ok=True)
        path = os.path.join(PICTURES, title + ".png")
        self.written.append(subprocess.Popen(["convert", "ppm:-", "-quality", "20", path], stdin=subprocess.PIPE))
        self.written[-1].stdin.write(pixels)
        self.written[-1].stdin.close()

    def sized(self, pixels, width, height):
        return pixels if pixels.startswith(b"P6\n%d %d\n" % (width, height)) else None

    def take(self, theme, scale):
        self.written = []
        with self.desk(SAMPLE, theme=theme, scale=scale, answers=[os.path.join(os.path.dirname(SAMPLE), "raw")]) as desk:
            desk.choose(3)
            for width, height in SIZES:
                desk.resize(width * scale, height * scale)
                for page in PAGES:
                    act(desk.get("page tab", page))
                    until(lambda: has(desk.get("page tab", page), Atspi.StateType.SELECTED), f"page {page}")
                    pixels = until(lambda: self.sized(desk.picture(), width * scale, height * scale), "the window has its size")
                    self.save(pixels, f"{page.lower()}-{theme}-{width}x{height}-{scale}x")
                    seen = colours(pixels)
                    self.assertGreater(seen[2], 100, "a page with little on it")
                    self.assertEqual(seen[3] > 0.5, theme == "light", f"{theme} has a brightness of {seen[3]}")
            act(desk.get("page tab", "Spectrum"))
            for action, title in DIALOGS.items() if scale == 1 else ():
                desk.do(action)
                dialog = desk.dialog()
                self.save(desk.picture(dialog), f"{title}-{theme}")
                desk.keys("Escape", window=dialog)
                desk.gone(dialog)
            if scale == 1:
                desk.do("win.import")
                dialog = desk.dialog("Import")
                until(lambda: len(list(among(dialog, "list item", leave=("list item",)))) > 6, "files are read")
                self.save(desk.picture(dialog), f"import-{theme}")
        self.assertEqual([one.wait() for one in self.written], [0] * len(self.written))

    def test_light(self):
        self.take("light", 1)

    def test_light_at_twice(self):
        self.take("light", 2)

    def test_dark(self):
        self.take("dark", 1)

    def test_dark_at_twice(self):
        self.take("dark", 2)


if __name__ == "__main__":
    counted.main()
