"""Scripts and styles: one home for a constant, the house's words for things, one spelling."""

from __future__ import annotations

import re

import pytest

from jobs.domain.rooms.typed import ROUND
from tests.conftest import ROOT
from tests.house.test_docs import tracked

SCRIPTS = tracked("installer_site/static/js/*.js")
SHOWN = [
    *SCRIPTS,
    *tracked("installer_site/static/css/*.css", "templates/*.html", "templates/*.md"),
]
# Words that name a thing by what happened to it rather than by what it is.
VAGUE = {"told", "asked", "found", "own", "nought", "crumb", "hair"}
BRITISH = re.compile(
    r"colour|licence|metre(?!s?\")|centre|labour|favour|behaviour|neighbour|travell|cancelled"
    r"|labelled|grey|catalog|(?:organ|recogn|real|optim|minim|maxim|summar|normal)is(?:e|ing|ation)",
    re.IGNORECASE,
)
# The state as it is stored, the web's own word, and the words of 16 CFR 429.1(b).
GIVEN = re.compile(r"state == \"cancelled\"|aria-labelledby|transaction will be cancelled")
NOT_CODE = re.compile(r"//[^\n]*|\"(?:\\.|[^\"\\\n])*\"|'(?:\\.|[^'\\\n])*'")


def code_of(script: str) -> str:
    """Return a script without its comments and plain texts."""
    return NOT_CODE.sub(" ", (ROOT / script).read_text())


def words_of(code: str) -> set[str]:
    """Return the words that identifiers are made of, in small letters."""
    names = set(re.findall(r"[A-Za-z_$][\w$]*", re.sub(r"`(?:\\.|[^`\\])*`", _inserted, code)))
    return {word.lower() for name in names for word in re.findall(r"[A-Z]?[a-z]+|[A-Z]+", name)}


def _inserted(template: re.Match[str]) -> str:
    """Return what a text in backticks inserts."""
    return " ".join(re.findall(r"\$\{([^}]*)\}", template[0]))


def test_an_inch_is_so_many_millimeters_in_one_place() -> None:
    homes = [name for name in SCRIPTS for _ in re.findall(r"\b25\.4\b", code_of(name))]
    assert homes == ["installer_site/static/js/sketch-lengths.js"]


@pytest.mark.parametrize("script", SCRIPTS)
def test_a_script_names_things_for_what_they_are(script: str) -> None:
    assert words_of(code_of(script)) & VAGUE == set()


def test_a_vague_name_would_be_noticed() -> None:
    assert words_of("const askedMeanwhile = `${told}`; // own") & VAGUE == {"asked", "told", "own"}


@pytest.mark.parametrize("name", SHOWN)
def test_what_is_shown_is_spelled_the_american_way(name: str) -> None:
    lines = (ROOT / name).read_text().splitlines()
    assert [line for line in lines if BRITISH.search(GIVEN.sub("", line))] == []


def test_the_sketch_knows_what_may_be_round_as_the_form_does() -> None:
    script = (ROOT / "installer_site/static/js/sketch-tools.js").read_text()
    listed = re.search(r"const ROUND = \[([^\]]*)\]", script)
    assert listed is not None
    assert tuple(re.findall(r'"(\w+)"', listed.group(1))) == ROUND
