"""Lock files: every package by version and hash, and nothing of where they came from."""

from __future__ import annotations

import re

import pytest

from tests.conftest import ROOT

LOCKS = ["requirements.lock", "requirements-dev.lock"]
PINNED = re.compile(r"^[a-z0-9][a-z0-9._-]*==[^ ;]+( ;.*)? \\$")
HASH = re.compile(r"^    --hash=sha256:[0-9a-f]{64}( \\)?$")
COMMENT = re.compile(r"^ *#")


@pytest.mark.parametrize("lock", LOCKS)
def test_every_line_is_a_pin_a_hash_or_a_comment(lock: str) -> None:
    lines = (ROOT / lock).read_text().splitlines()
    odd = [
        line
        for line in lines
        if not (PINNED.match(line) or HASH.match(line) or COMMENT.match(line))
    ]
    assert lines
    assert odd == []


@pytest.mark.parametrize("lock", LOCKS)
def test_every_pin_is_followed_by_a_hash(lock: str) -> None:
    lines = (ROOT / lock).read_text().splitlines()
    pins = [number for number, line in enumerate(lines) if PINNED.match(line)]
    assert [lines[number] for number in pins if not HASH.match(lines[number + 1])] == []


@pytest.mark.parametrize("lock", LOCKS)
def test_no_address_and_no_folder_is_named(lock: str) -> None:
    assert re.findall(r"://|/[a-z]+/|index-url|find-links", (ROOT / lock).read_text()) == []


def test_development_uses_the_versions_that_run() -> None:
    running, development = (
        {line.split(" ")[0] for line in (ROOT / lock).read_text().splitlines() if "==" in line}
        for lock in LOCKS
    )
    assert running <= development
