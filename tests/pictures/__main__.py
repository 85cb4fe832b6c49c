"""What `bin/pictures` runs once everything it needs is there."""

from __future__ import annotations

import argparse
import sys
import time
from pathlib import Path

import django
from django.conf import settings

from tests.pictures.addresses import NOT_PICTURED
from tests.pictures.compare import compare
from tests.pictures.index import MARK, index_page
from tests.pictures.sights import is_wanted, sights
from tests.pictures.site import SiteError, fill, served
from tests.pictures.take import faults_of, take_all, unseen_of


class RefusedError(ValueError):
    """What was wanted can't be done; the text names it and says what could be."""


def main(arguments: list[str]) -> int:
    """Take the pictures, or compare two folders of them; return the exit code."""
    parser = argparse.ArgumentParser(prog="bin/pictures")
    parser.add_argument("--compare", nargs=2, type=Path, metavar=("A", "B"))
    parser.add_argument("folder", nargs="?", type=Path, metavar="DIR")
    parser.add_argument("names", nargs="*", metavar="NAME")
    options = parser.parse_args(arguments)
    try:
        if options.compare and options.folder:
            raise RefusedError(f"{options.folder} can't be used: --compare takes two folders")
        if options.compare:
            return _compare(*options.compare)
        if not options.folder:
            raise RefusedError("no folder is named: write bin/pictures DIR [NAME...]")
        return _take(options.folder, options.names)
    except (RefusedError, SiteError) as refused:
        sys.stderr.write(f"bin/pictures: {refused}\n")
        return 2


def _compare(before: Path, after: Path) -> int:
    """Print what differs between two folders."""
    for folder in (before, after):
        if not any(folder.glob("*.png")):
            raise RefusedError(f"{folder} can't be compared: a folder with pictures is needed")
    sys.stdout.write("\n".join(compare(before, after)) + "\n")
    return 0


def _take(folder: Path, names: list[str]) -> int:
    """Fill the folder, print what went wrong; return 1 where something did."""
    began = time.monotonic()
    _empty(folder)
    django.setup()
    fill()
    seen = sights()
    if not any(is_wanted(one, names) for one in seen):
        known = ", ".join(sorted({one.name for one in seen}))
        raise RefusedError(f"{' '.join(names)} names no picture; the pages are {known}")
    with served(settings.VAR) as port:
        outcomes = list(take_all(seen, port=port, folder=folder, names=names))
    (folder / "index.html").write_text(index_page(outcomes, NOT_PICTURED))
    pictures = sum(len(one.pictures) for one in outcomes)
    seconds = time.monotonic() - began
    sys.stdout.write(f"{pictures} pictures in {seconds:.0f} s: {folder / 'index.html'}\n")
    faults = faults_of(outcomes)
    # Where names narrow the run, the role that gets a page may be left out.
    faults += [
        f"{name} gave nobody a page: list it with a reason, or put a row of it into the demo"
        for name in ([] if names else unseen_of(seen, outcomes))
    ]
    sys.stderr.writelines(f"bin/pictures: {fault}\n" for fault in faults)
    return 1 if faults else 0


def _empty(folder: Path) -> None:
    """Make the folder, or empty it of an earlier run. Raises RefusedError for anybody else's."""
    index = folder / "index.html"
    if folder.exists() and not folder.is_dir():
        raise RefusedError(f"{folder} can't be used: it is no folder")
    ours = index.is_file() and MARK in index.read_text(errors="replace")
    if folder.is_dir() and any(folder.iterdir()) and not ours:
        raise RefusedError(f"{folder} can't be used: it holds what bin/pictures did not make")
    folder.mkdir(parents=True, exist_ok=True)
    for file in [*folder.glob("*.png"), *folder.glob("*.pdf"), *folder.glob("index.html")]:
        file.unlink()
    index.write_text(f"{MARK}<p>This run has not ended.</p>")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
