"""A checkout of the scripts alone, under a name that is hard on shells, with stand-ins for the tools that take minutes. Each stand-in writes down how it was
called; the programs that its ninja makes do so too."""
import json
import os
import shutil
import stat
import subprocess
import tempfile

ROOT = os.environ.get("SP_SOURCE_ROOT") or os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
ODD = "a b'c\"d$(touch broken)ü"
SCRIPTS = ("app/start", "app/install-packages", "app/build-folder", "tests/run", "tests/tally.py", "tests/fuzz/run", "tests/bench/run", ".ci/run", ".ci/tidy")
NOBODY = 65534

TOOLS = {
    # sets up as Meson does: a folder that was set up is left alone, and --wipe wants the options it had
    "meson": """
[ "$1" != --version ] || { echo "${SP_MESON:-1.0.1}"; exit; }
case $1 in
  setup)
    [ -z "${SP_MESON_FAILS-}" ] || { echo "meson.build:1:0: ERROR: no compiler"; exit 1; }
    wipe=; shift; [ "$1" != --wipe ] || { wipe=1; shift; }
    [ -z "$wipe" ] || { [ -f "$1/meson-private/cmd_line.txt" ] && [ -z "${SP_WIPE_FAILS-}" ]; } || { echo "no valid build tree"; exit 1; }
    [ -z "$wipe" ] || find "$1/" -mindepth 1 -delete
    [ ! -f "$1/meson-private/coredata.dat" ] || { echo "Directory already configured."; exit; }
    mkdir -p "$1"/meson-private "$1"/meson-info "$1"/meson-logs
    touch "$1/meson-private/coredata.dat" "$1/meson-private/cmd_line.txt"
    python3 -c 'import json,sys; json.dump({"meson_version": {"full": sys.argv[1]}, "directories": {"source": sys.argv[2]}}, sys.stdout)' \\
      "${SP_MESON:-1.0.1}" "$2" >"$1/meson-info/meson-info.json"
    echo sound >"$1/build.ninja" ;;
  test)
    [ -z "${SP_TEST_FAILS-}" ] || exit 1
    echo '{"name": "one", "result": "OK", "stdout": ""}' >"$3/meson-logs/testlog.json" ;;
esac""",
    "ninja": """
folder=$2; shift 2
[ "$(cat "$folder/build.ninja")" = sound ] || { echo "ninja: error: build.ninja:1: expected '='"; exit 1; }
if [ "${1-}" = -t ]; then [ "$2 $3" != "query app/spurproof" ] || [ -z "${SP_NO_WINDOW-}" ]; exit; fi
[ -z "${SP_NINJA_FAILS-}" ] || { echo "core/judge/judge.c:1:1: error: unknown type"; exit 1; }
mkdir -p "$folder/app" "$folder/tests"
for target in "$@"; do cp "$SP_TOOLS/program" "$folder/$target"; done""",
    "program": """
case $0 in
  */app/spurproof) exit "${SP_STATUS:-0}" ;;
  */fuzz-*) echo "stat::number_of_executed_units: 7" ;;
esac
while [ $# -gt 0 ]; do [ "$1" != -o ] || touch "$2"; shift; done""",
    "dpkg-query": """
shift 3; for package in "$@"; do [[ " ${SP_MISSING-} " = *" $package "* ]] || echo "$package: install ok installed"; done""",
    "apt-get": """[ -z "${SP_APT_FAILS-}" ] || { echo "E: Could not resolve the mirror"; exit 100; }""",
    "sudo": "exit 1",
    "clang": "",
}


class Checkout:
    def __init__(self):
        self.top = tempfile.mkdtemp(prefix="scripts")
        os.chmod(self.top, 0o755)
        self.here, self.tools, self.home, self.log = (os.path.join(self.top, name) for name in (ODD, "tools", "home", "log"))
        for script in SCRIPTS:
            os.makedirs(os.path.dirname(self.place(script)), exist_ok=True)
            shutil.copy(os.path.join(ROOT, script), self.place(script))
        os.makedirs(self.place("samples"))
        for target in ("trace-text", "draft"):
            open(self.place(f"tests/fuzz/{target}.c"), "w", encoding="utf-8").close()
        for folder in (self.tools, self.home):
            os.mkdir(folder)
        for name, body in TOOLS.items():
            path = os.path.join(self.tools, name)
            with open(path, "w", encoding="utf-8") as file:
                file.write('#!/bin/bash\nprintf \'%s\\n\' "${0##*/} $*" >>"$SP_LOG"\n' + body.lstrip("\n") + "\n")
            os.chmod(path, 0o755)
        open(self.log, "w", encoding="utf-8").close()
        os.chmod(self.log, 0o666)

    def rename(self, name):
        os.rename(self.here, os.path.join(self.top, name))
        self.here = os.path.join(self.top, name)

    def remove(self):
        for folder, _, _ in os.walk(self.top):
            os.chmod(folder, os.stat(folder).st_mode | stat.S_IRWXU)
        shutil.rmtree(self.top)

    def place(self, *parts):
        return os.path.join(self.here, *parts)

    def run(self, script, *words, user=None, cwd="/", **env):
        """Runs it from elsewhere; env None: not set. Gives exit code, output, errors."""
        env = {"PATH": f"{self.tools}:{os.environ['PATH']}", "HOME": self.home, "SP_TOOLS": self.tools, "SP_LOG": self.log, "LC_ALL": "C.UTF-8", **env}
        given = {key: value for key, value in env.items() if value is not None}
        become = ["setpriv", f"--reuid={user}", f"--regid={user}", "--clear-groups"] if user and os.getuid() == 0 else []
        run = subprocess.run([*become, self.place(script), *words], cwd=cwd, env=given, stdin=subprocess.DEVNULL, capture_output=True, text=True, check=False,
                             timeout=600)
        return run.returncode, run.stdout, run.stderr

    def calls(self, tool):
        with open(self.log, encoding="utf-8") as file:
            return [line[len(tool) + 1:-1] for line in file if line.startswith(tool + " ")]

    def forget(self):
        open(self.log, "w", encoding="utf-8").close()

    def lay(self, folder, **files):
        """A build folder with the given files in it; names with __ for /."""
        for name, text in files.items():
            path = self.place(folder, name.replace("__", "/"))
            os.makedirs(os.path.dirname(path), exist_ok=True)
            with open(path, "w", encoding="utf-8") as file:
                file.write(text)

    def info(self, source=None, version="1.0.1"):
        return json.dumps({"meson_version": {"full": version}, "directories": {"source": source or self.here}})
