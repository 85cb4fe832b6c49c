"""Run a command of manage.py on the pictured day: `python -m tests.pictures.held COMMAND ...`.

The clock stands still and links are drawn from the same chance each time, so that two runs leave
the same rows, the same papers and the same pages.
"""

from __future__ import annotations

import os
import secrets
import sys
from base64 import urlsafe_b64encode
from random import Random
from unittest.mock import patch

import time_machine
from django.core.management import execute_from_command_line

from tests.pictures import MOMENT


class SameEachTime:
    """Stands where `secrets.token_urlsafe` stands, and draws the same tokens in every run."""

    def __init__(self) -> None:
        self._chance = Random(0)

    def __call__(self, nbytes: int | None = None) -> str:
        drawn = self._chance.randbytes(nbytes or secrets.DEFAULT_ENTROPY)
        return urlsafe_b64encode(drawn).rstrip(b"=").decode()


def main(command: list[str]) -> None:
    """Run the command; it ends this process as `manage.py` would."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "installer_site.settings")
    held = time_machine.travel(MOMENT, tick=False)
    with held, patch.object(secrets, "token_urlsafe", SameEachTime()):
        execute_from_command_line(["manage.py", *command])


if __name__ == "__main__":
    main(sys.argv[1:])
