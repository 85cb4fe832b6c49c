"""A small disk of its own, to be filled up and shut."""

from __future__ import annotations

import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

SIZE = "60m"
PATIENCE_S = 10.0


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
    words = ["mount", "-o", f"remount,{'rw' if writable else 'ro'},size={SIZE}", str(place)]
    until = time.monotonic() + PATIENCE_S  # a process that was killed lets go a moment later
    while subprocess.run(words, capture_output=time.monotonic() < until, check=False).returncode:
        if time.monotonic() > until:
            message = f"{place} is held open: {holders_of(place)}"
            raise OSError(message)
        time.sleep(0.2)


def holders_of(place: Path) -> list[str]:
    """Return the files below a folder that are open, each with the process that has it open."""
    held = []
    for link in Path("/proc").glob("[0-9]*/fd/*"):
        with suppress(OSError):
            if str(link.readlink()).startswith(f"{place}/"):
                held.append(f"{link.parts[2]}: {link.readlink()}")
    return held


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
