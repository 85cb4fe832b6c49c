"""Make each small mistake in a copy of the tree and see whether its tests notice.

    python -m tests.mutants                 all of them, a few minutes
    python -m tests.mutants kerf counting   those with one of these words in their name or file

First the tests run on the copy as it is: what fails there can't catch anything. Every run is a
process of its own, split off from this one, which has the libraries loaded but nothing of the tree.
Ends with 1 where a mistake survived.
"""

from __future__ import annotations

import importlib
import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterable, Sequence
from pathlib import Path

from tests.conftest import ROOT
from tests.mutants.edits import Edit, edits

LIBRARIES = ("pytest", "hypothesis", "django.test", "shapely", "numpy", "scipy.optimize", "pint")
OURS = ("tests", "jobs", "estimates", "layout", "installer_site")
# The libraries of plugins were loaded before pytest could look into them, which is no fault here.
LOADED = "ignore::pytest.PytestAssertRewriteWarning"
OPTIONS = ("-x", "-q", "--tb=short", "-p", "no:cacheprovider", "-W", LOADED)
NO_TESTS = 5  # what pytest ends with where it found nothing to run


def main(words: Sequence[str]) -> int:
    """Run the edits that the words choose; 1 where one survived, 2 where nothing can be said."""
    chosen = [edit for edit in edits() if _is_meant(edit, words)]
    for name in LIBRARIES:
        importlib.import_module(name)
    with tempfile.TemporaryDirectory(prefix="mutants-") as folder:
        place = Path(folder)
        _copy_to(place)
        selection = sorted({test for edit in chosen for test in edit.tests})
        if code := _tested(place, selection, tells=True):
            _say(f"The tests do not pass without any edit (pytest ended with {code}).")
            return 2
        survived = [edit for edit in chosen if not _is_caught(place, edit)]
    _say(f"{len(chosen)} edits, {len(chosen) - len(survived)} caught, {len(survived)} survived")
    return 1 if survived else 0


def _is_meant(edit: Edit, words: Sequence[str]) -> bool:
    return not words or any(word in edit.name or word in edit.file for word in words)


def _copy_to(place: Path) -> None:
    """Copy what git knows of the tree, kept books and libraries for browsers left out."""
    listed = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    for name in listed.stdout.splitlines():
        if not name.startswith(("tests/books/", "tests/axe/")) and (ROOT / name).is_file():
            (place / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy2(ROOT / name, place / name)


def _is_caught(place: Path, edit: Edit) -> bool:
    """Make one edit in the copy, run its tests, put back what was there, and say so."""
    path, began = place / edit.file, time.monotonic()
    text, seen = path.read_text(), path.stat()
    path.write_text(edit.wrong(text))
    os.utime(path, (seen.st_atime, seen.st_mtime + 2))  # what was compiled before is out of date
    code = _tested(place, edit.tests)
    path.write_text(text)
    os.utime(path, (seen.st_atime, seen.st_mtime))
    caught = code not in (0, NO_TESTS)
    took = time.monotonic() - began
    _say(f"{'caught  ' if caught else 'SURVIVED'} {took:5.1f} s  {edit.name}")
    return caught


def _tested(place: Path, selection: Iterable[str], *, tells: bool = False) -> int:
    """Run tests in the copy in a process of its own; return what pytest ended with.

    It prints where `tells` says so, else nowhere.
    """
    child = os.fork()
    if child:
        return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    os.chdir(place)
    sys.dont_write_bytecode = False
    sys.path[:] = [str(place), *(each for each in sys.path if each not in ("", str(ROOT)))]
    for name in [name for name in sys.modules if name.partition(".")[0] in OURS]:
        del sys.modules[name]
    if not tells:
        _say_nothing()
    import pytest

    os._exit(int(pytest.main([*OPTIONS, *selection])))


def _say(line: str) -> None:
    sys.stdout.write(f"{line}\n")
    sys.stdout.flush()


def _say_nothing() -> None:
    """Let this process print nowhere."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    os.dup2(nowhere, 2)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
