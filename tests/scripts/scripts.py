#!/usr/bin/env python3
"""The scripts under what accidents leave and other machines are like: each works, or says in one sentence what is missing and what to do. Meson, ninja and
apt are stood in for (standins.py); the real ones are real.py, behind SP_LONG."""
import os
import shutil
import sys
import unittest

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path[:0] = [HERE, os.path.join(HERE, "..")]
import counted  # noqa: E402
from standins import NOBODY, ODD, Checkout  # noqa: E402

AS_ROOT = os.getuid() == 0
ALL = (("app/start",), ("tests/run",), (".ci/run",), ("tests/fuzz/run", "1", "draft"), ("tests/bench/run", "spectrum"))


class Case(unittest.TestCase):
    def setUp(self):
        self.tree = Checkout()
        self.addCleanup(self.tree.remove)

    def works(self, script, *words, **env):
        code, out, err = self.tree.run(script, *words, **env)
        self.assertEqual((code, err), (0, ""), f"{script} with {env}: {out}{err}")
        return out

    def ends(self, sentence, script, *words, **env):
        """It fails, and its last line says so."""
        code, out, err = self.tree.run(script, *words, **env)
        told = [line for line in err.splitlines() if not line.startswith("not built")] or [""]
        self.assertEqual(code, 1, f"{script} with {env}: {out}{err}")
        self.assertRegex(told[-1], sentence)
        return out, told


class Places(Case):
    def test_everywhere_under_an_odd_path(self):
        for script, *words in ALL:
            out = self.works(script, *words)
            if script.endswith("run") and len(words) == 0:
                self.assertEqual(out.splitlines()[-1], "1 passed, 0 failed")
        self.assertFalse([name for name in os.listdir("/") + os.listdir(self.tree.top) if name == "broken"], "a part of the path was run")
        self.assertEqual({name for name in os.listdir(self.tree.here) if name.startswith("build")}, {"build", "build-ci", "build-fuzz", "build-bench"})
        self.assertIn("1 -dict", " ".join(self.tree.calls("fuzz-draft")).replace("max_total_time=1 ", "1 -dict "))

    def test_through_a_link(self):
        os.symlink(self.tree.place("app/start"), os.path.join(self.tree.top, "start"))
        self.assertIn(self.tree.place("build/sample/club.xlsx"), self.works("../start"))

    def test_a_sound_folder_is_set_up_once(self):
        for script, *words in ALL:
            self.works(script, *words)
        self.tree.forget()
        for script, *words in ALL:
            self.works(script, *words)
        self.assertEqual([call for call in self.tree.calls("meson") if call.startswith("setup")], [])

    def test_read_only_checkout(self):
        """It is built in the user's cache, apart from other checkouts."""
        os.chown(self.tree.home, *((NOBODY, NOBODY) if AS_ROOT else (-1, -1)))
        os.chmod(self.tree.here, 0o555)
        self.ends("cannot be written, and gcc cannot compile .*: copy it to another name", "app/start", user=NOBODY)
        os.chmod(self.tree.here, 0o755)
        self.tree.rename(ODD.replace('"', ""))
        for folder, _, _ in os.walk(self.tree.here):
            os.chmod(folder, 0o555)
        for script, *words in ALL:
            self.works(script, *words, user=NOBODY)
        made = os.listdir(os.path.join(self.tree.home, ".cache", "spurproof"))
        self.assertEqual(sorted(name[:len(name) - 17] for name in made if name != "fuzz"), ["build", "build-bench", "build-ci", "build-fuzz"])
        self.assertEqual(os.stat(os.path.join(self.tree.home, ".cache", "spurproof")).st_mode & 0o77, 0)
        self.ends("set XDG_CACHE_HOME to a folder of your own", "app/start", user=NOBODY, XDG_CACHE_HOME="/proc/nowhere")

    def test_temporary_folders(self):
        for script, *words in ALL:
            for folder in (None, "", "/nowhere/at all", "/proc", self.tree.log) if script == "tests/bench/run" else ("/proc",):
                self.works(script, *words, TMPDIR=folder)

    def test_homes(self):
        for home in (None, "", "/nowhere", "/proc"):
            for script in ("app/start", "tests/run", ".ci/run"):
                self.works(script, HOME=home)
            self.works("tests/fuzz/run", "1", "draft", HOME=home, XDG_CACHE_HOME=os.path.join(self.tree.top, "cache"))
        self.ends("/proc/.cache/spurproof cannot be written: set XDG_CACHE_HOME", "tests/fuzz/run", "1", "draft", HOME="/proc")

    def test_displays(self):
        for display in ({}, {"DISPLAY": ""}, {"DISPLAY": ":9", "SP_STATUS": "3"}, {"WAYLAND_DISPLAY": "dead", "SP_STATUS": "3"}, {"DISPLAY": ":0", "SP_NO_WINDOW": "1"}):
            self.assertIn("The report:", self.works("app/start", **display))
        self.assertEqual(self.works("app/start", DISPLAY=":0"), "")
        self.assertEqual(self.tree.run("app/start", DISPLAY=":0", SP_STATUS="1")[0], 1)


class Leftovers(Case):
    def test_half_made_and_foreign(self):
        """Whatever a killed or another Meson, or another checkout, left: made anew, and the options kept where they can be read."""
        options = {"meson-private__cmd_line.txt": "[options]\n", "meson-private__coredata.dat": ""}
        left = {
            "nothing": {},
            "setting up": {"meson-logs__meson-log.txt": "Build started"},
            "setting up, far": {"meson-private__coredata.dat": ""},
            "before the end": {**options},
            "broken": {**options, "build.ninja": "rule c_COMP", "meson-info__meson-info.json": self.tree.info()},
            "broken, without options": {"build.ninja": "\0\0\0", "meson-info__meson-info.json": self.tree.info()},
            "info cut": {**options, "build.ninja": "sound", "meson-info__meson-info.json": '{"meson_ver'},
            "no info": {**options, "build.ninja": "sound"},
            "other checkout": {**options, "build.ninja": "sound", "meson-info__meson-info.json": self.tree.info(source="/another")},
            "other Meson": {**options, "build.ninja": "sound", "meson-info__meson-info.json": self.tree.info(version="0.64.1")},
        }
        for (script, *words), folder in zip(ALL, ("build", "build", "build-ci", "build-fuzz", "build-bench")):
            for what, files in left.items() if script == "app/start" else (("broken", left["broken"]), ("no info", left["no info"])):
                if os.path.exists(self.tree.place(folder)):
                    shutil.rmtree(self.tree.place(folder))
                os.mkdir(self.tree.place(folder))
                self.tree.lay(folder, **files)
                self.tree.forget()
                self.works(script, *words)
                calls = [call for call in self.tree.calls("meson") if call.startswith("setup")]
                self.assertEqual([call.startswith("setup --wipe") for call in calls], [options.items() <= files.items()], f"{script}, {what}: {calls}")
        files = {"meson-private__cmd_line.txt": "", "meson-private__coredata.dat": ""}
        shutil.rmtree(self.tree.place("build"))
        self.tree.lay("build", **files)
        self.tree.forget()
        self.works("app/start", SP_WIPE_FAILS="1")
        self.assertEqual(len([call for call in self.tree.calls("meson") if call.startswith("setup")]), 2, "where --wipe fails, without the options")

    def test_no_build_folder_of_ours(self):
        with open(self.tree.place("build"), "w", encoding="utf-8") as file:
            file.write("a file")
        self.ends("build is no folder that you may write: move it away", "app/start")
        self.ends("build is no folder that you may write: move it away", "tests/run")
        os.remove(self.tree.place("build"))
        os.symlink("/nowhere", self.tree.place("build"))
        self.ends("move it away|remove it", "app/start")
        os.remove(self.tree.place("build"))
        self.tree.lay("build", **{"letters.txt": "mine"})
        self.ends("build holds files that no build put there: move it away", "app/start")
        self.assertEqual(os.listdir(self.tree.place("build")), ["letters.txt"])

    @unittest.skipUnless(AS_ROOT, "only root can lay another's folder")
    def test_another_users_folder(self):
        """However sound it looks, nothing of it is run."""
        for (script, *words), folder in zip(ALL, ("build", "build", "build-ci", "build-fuzz", "build-bench")):
            self.tree.lay(folder, **{"build.ninja": "sound", "meson-info__meson-info.json": self.tree.info()})
            os.chown(self.tree.place(folder), NOBODY, NOBODY)
            self.ends("belongs to another user, who may have laid anything there: remove it", script, *words)
        self.assertEqual(self.tree.calls("ninja"), [])
        cache = os.path.join(self.tree.top, "cache")
        os.makedirs(os.path.join(cache, "spurproof"))
        os.chown(os.path.join(cache, "spurproof"), NOBODY, NOBODY)
        os.rename(self.tree.place("build-fuzz"), os.path.join(self.tree.top, "away"))
        self.ends("belongs to another user: set XDG_CACHE_HOME", "tests/fuzz/run", "1", "draft", XDG_CACHE_HOME=cache)

    @unittest.skipUnless(AS_ROOT, "only root can give a checkout away")
    def test_anothers_checkout(self):
        """Root in a user's checkout, or after sudo: what its owner built is his, as the sources are."""
        for folder, _, names in os.walk(self.tree.here):
            for name in ["", *names]:
                os.chown(os.path.join(folder, name), NOBODY, NOBODY)
        self.works("app/start", user=NOBODY)
        self.works("app/start")
        self.works("tests/run")

    def test_no_last_log_is_told(self):
        """A run that breaks off must not end with the tally of the one before."""
        self.works("tests/run")
        code, out, _ = self.tree.run("tests/run", SP_TEST_FAILS="1")
        self.assertEqual(code, 1)
        self.assertEqual(out.splitlines()[-1], "0 passed, 1 failed")


class Missing(Case):
    def test_what_cannot_be_built(self):
        for script, *words in ALL:
            _, told = self.ends("could not be set up; what stands above says why", script, *words, SP_MESON_FAILS="1")
            self.assertIn("ERROR: no compiler", told[0])
        for script, *words in ALL:
            code, out, err = self.tree.run(script, *words, SP_NINJA_FAILS="1")
            self.assertEqual(code, 1)
            self.assertIn("unknown type", out + err)
            if script in ("tests/run", ".ci/run"):
                self.assertEqual(out.splitlines()[-1], "0 passed, 1 failed")
            else:
                self.assertRegex(err.splitlines()[-1], "could not be built in .*; what stands above says why")

    def test_packages(self):
        code, out, err = self.tree.run("app/install-packages", "build", "test")
        self.assertEqual((code, out, err), (0, "", ""))
        self.assertEqual(self.tree.calls("apt-get"), [])
        with open(os.path.join(self.tree.tools, "id"), "w", encoding="utf-8") as file:
            file.write("#!/bin/sh\necho ${SP_ID:-0}\n")
        os.chmod(os.path.join(self.tree.tools, "id"), 0o755)
        missing = {"SP_MISSING": "ninja-build check"}
        for script, *words in ALL:
            self.ends("^Packages are missing and you may not install them: have an administrator run: apt-get install ninja-build check$", script, *words,
                      SP_ID="1000", **missing)
        self.assertIn("Installing: ninja-build check", self.works("app/install-packages", "build", **missing))
        self.assertIn("install -y --no-install-recommends ninja-build check", self.tree.calls("apt-get")[-1])
        _, told = self.ends("^Not installed, for the reason above; an administrator runs: apt-get install check$", "app/install-packages", "build",
                            SP_MISSING="check", SP_APT_FAILS="1")
        self.assertIn("resolve", told[0])

    def test_wrong_words(self):
        self.ends("^usage: tests/run", "tests/run", "--fast")
        self.ends("^usage: tests/fuzz/run", "tests/fuzz/run", "draft")
        self.ends("^no target is called key-file; there are: trace-text", "tests/fuzz/run", "1", "key-file")
        self.ends("^no section is called figures; there are: reading", "tests/bench/run", "figures")


if __name__ == "__main__":
    counted.main()
