"""What the scripts that call spurproof-batch share: a folder of files, a call that must go well, one that must be refused."""
import json
import os
import shutil
import subprocess
import tempfile
import unittest

import bench_files

BATCH = os.path.join(os.environ.get("SP_BUILD_ROOT", "build"), "app", "spurproof-batch")


class Bench(unittest.TestCase):
    """One folder of files for a class, a copy of it where a test spoils one."""

    @classmethod
    def setUpClass(cls):
        cls.folder = bench_files.write(tempfile.mkdtemp(prefix="spurproof-batch-"))

    @classmethod
    def tearDownClass(cls):
        shutil.rmtree(cls.folder)

    def run_batch(self, *words, folder=None, **more):
        env = dict(os.environ, **{"LC_ALL": "C.UTF-8", **more})
        run = subprocess.run([BATCH, *words], capture_output=True, cwd=folder or self.folder, env=env, timeout=600)
        self.assertGreaterEqual(run.returncode, 0, f"{words}: died of a signal: {run.stderr}")
        return run.returncode, run.stdout.decode(), run.stderr.decode()

    def good(self, *words, **more):
        code, out, err = self.run_batch(*words, **more)
        self.assertEqual((code, err), (0, ""), words)
        return out

    def load(self, *words, **more):
        def no_constant(text):
            self.fail(f"{text} is not JSON")
        data = json.loads(self.good(*words, "--json", **more), parse_constant=no_constant)
        self.assertEqual(data["schema"], 1)
        return data

    def refused(self, *words, folder=None):
        code, out, err = self.run_batch(*words, folder=folder)
        self.assertEqual((code, out), (1, ""), f"{words}: {err}")
        self.assertTrue(err.startswith("spurproof-batch: ") and err.endswith("\n"), err)
        return err
