#!/usr/bin/env python3
"""The scripts with the real tools (SP_LONG only: minutes each): a whole build and every test under an odd path, as a user who may write nothing but the checkout;
a build killed in the middle of set-up and of compiling; a checkout that was moved with its build folder; a broken build.ninja; a read-only one."""
import os
import re
import shutil
import signal
import subprocess
import sys
import tempfile
import time
import unittest

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path[:0] = [HERE, os.path.join(HERE, "..")]
import counted  # noqa: E402
from standins import NOBODY, ODD, ROOT  # noqa: E402

AS_ROOT = os.getuid() == 0
LEFT_OUT = re.compile(r"build.*|\.git")  # of the checkout's top


@unittest.skipUnless(os.environ.get("SP_LONG"), "it takes minutes: tests/run --long")
class Real(unittest.TestCase):
    def setUp(self):
        self.top = tempfile.mkdtemp(prefix="real")
        os.chmod(self.top, 0o755)
        self.addCleanup(shutil.rmtree, self.top, True)
        self.here = os.path.join(self.top, ODD)
        shutil.copytree(ROOT, self.here, ignore=lambda folder, names: [name for name in names if folder == ROOT and LEFT_OUT.fullmatch(name)])
        self.env = {"PATH": os.environ["PATH"], "HOME": self.top, "LC_ALL": "C.UTF-8"}

    def start(self, script, *words, user=None, **env):
        become = ["setpriv", f"--reuid={user}", f"--regid={user}", "--clear-groups"] if user and AS_ROOT else []
        given = {key: value for key, value in {**self.env, **env}.items() if value is not None}
        return subprocess.Popen([*become, os.path.join(self.here, script), *words], cwd="/", env=given, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE,
                                stderr=subprocess.STDOUT, text=True, start_new_session=True)

    def works(self, script, *words, **more):
        program = self.start(script, *words, **more)
        out = program.communicate()[0]
        self.assertEqual(program.returncode, 0, out[-4000:])
        return out

    def killed_when(self, condition):
        """The whole group of processes, as at a power cut, as soon as that holds."""
        program = self.start("app/start")
        while program.poll() is None and not condition():
            time.sleep(0.001)
        self.assertIsNone(program.poll(), "it was done before it was killed")
        os.killpg(program.pid, signal.SIGKILL)
        program.communicate()

    def built(self, *parts):
        return os.path.join(self.here, "build", *parts)

    def objects(self):
        return sum(name.endswith(".o") for _, _, names in os.walk(self.built()) for name in names)

    def test_a_user_who_may_write_nothing_else(self):
        for folder, _, names in os.walk(self.here):
            for name in ["", *names]:
                if AS_ROOT:
                    os.chown(os.path.join(folder, name), NOBODY, NOBODY)
        out = self.works("tests/run", user=NOBODY, HOME="/proc", TMPDIR="/nowhere", DISPLAY=":9")
        passed, failed = re.fullmatch(r"(\d+) passed, (\d+) failed", out.splitlines()[-1]).groups()
        self.assertEqual(failed, "0", out[-4000:])
        self.assertGreater(int(passed), 5000)
        self.assertFalse(os.path.exists(os.path.join(self.here, "broken")))

    def test_killed_moved_broken(self):
        self.killed_when(lambda: os.path.exists(self.built("meson-logs", "meson-log.txt")))
        self.killed_when(lambda: os.path.exists(self.built("meson-private", "coredata.dat")))
        for n in (1, 50, 120):
            self.killed_when(lambda n=n: self.objects() >= n)
        self.assertIn("The report:", self.works("app/start"))
        moved = os.path.join(self.top, "moved")
        os.rename(self.here, moved)
        self.here = moved
        self.assertIn(os.path.join(moved, "build", "sample", "club.xlsx"), self.works("app/start"))
        with open(self.built("build.ninja"), "r+b") as file:
            file.truncate(os.path.getsize(file.name) // 2)
        self.assertIn("The report:", self.works("app/start"))

    def test_read_only(self):
        os.rename(self.here, self.here.replace('"', ""))  # gcc's inline assembler cannot have one in a path, which an outside build has
        self.here = self.here.replace('"', "")
        if AS_ROOT:
            os.chown(self.top, NOBODY, NOBODY)
        for folder, _, _ in os.walk(self.here):
            os.chmod(folder, 0o555)
        self.assertIn(os.path.join(self.top, ".cache", "spurproof"), self.works("app/start", user=NOBODY))
        for folder, _, _ in os.walk(self.here):
            os.chmod(folder, 0o755)


if __name__ == "__main__":
    counted.main()
