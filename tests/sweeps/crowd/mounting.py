"""A small disk of its own, to be filled up and shut."""

from __future__ import annotations

import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

SIZE = "60m"


@contextmanager
def small_disk(place: Path) -> Iterator[bool]:
    """A disk mounted at a folder; False where this machine lets nobody mount one."""
    words = ["mount", "-t", "tmpfs", "-o", f"size={SIZE}", "tmpfs", str(place)]
    there = not subprocess.run(words, capture_output=True, check=False).returncode
    try:
        yield there
    finally:
        if there:
            subprocess.run(["umount", "--lazy", str(place)], check=True)


def set_writable(place: Path, *, writable: bool) -> None:
    """Let a mounted disk be written on, or only be read; nobody may have a file open on it."""
    how = "rw" if writable else "ro"
    subprocess.run(["mount", "-o", f"remount,{how},size={SIZE}", str(place)], check=True)


@contextmanager
def filled_up(place: Path) -> Iterator[None]:
    """Leave no byte free on the disk of a folder."""
    ballast = place / "ballast"
    with ballast.open("wb", buffering=0) as out:
        for size in (2**20, 2**12, 1):
            try:
                while out.write(b"\0" * size):
                    pass
            except OSError:
                continue
    try:
        yield
    finally:
        ballast.unlink()
