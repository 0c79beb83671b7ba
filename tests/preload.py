"""A library of ours preloaded into a program under test."""
import os


def preload(library):
    """What its environment gets. The loader parts LD_PRELOAD at blanks, which a checkout's path may have: so the name stands there, and its folder in
    LD_LIBRARY_PATH, which is not."""
    folder, name = os.path.split(os.path.abspath(library))
    return {"LD_PRELOAD": name, "LD_LIBRARY_PATH": ":".join(filter(None, (folder, os.environ.get("LD_LIBRARY_PATH"))))}
