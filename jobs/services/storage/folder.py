"""A folder as Django's storage, in which a file is there whole or not at all."""

from __future__ import annotations

import os
import secrets
from pathlib import Path
from typing import Any

from django.core.files import File
from django.core.files.storage import FileSystemStorage


class SafeFolder(FileSystemStorage):
    """Keeps a file under the very name that it is given: the names are digests of what is kept."""

    def get_available_name(self, name: str, max_length: int | None = None) -> str:
        """Return the name itself: what lies there already is the same content, or spoiled."""
        return name

    # Any: a file of text or of bytes, as Django types it.
    def _save(self, name: str, content: File[Any]) -> str:
        """Write a file beside its place, have the disk know it, and put it there by a rename."""
        place = Path(self.path(name))
        place.parent.mkdir(parents=True, exist_ok=True)
        unfinished = place.with_name(f"{place.name}.{secrets.token_hex(4)}.part")
        with unfinished.open("wb") as out:
            for piece in content.chunks():
                out.write(piece)
            out.flush()
            os.fsync(out.fileno())
        unfinished.replace(place)
        return name

    def freshen(self, name: str) -> None:
        """Let a file count as new, so that no sweep takes it before its row is there."""
        Path(self.path(name)).touch()
