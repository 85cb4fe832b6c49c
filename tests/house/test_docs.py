"""What README and DEVELOPERS say, held against the tree."""

from __future__ import annotations

import re
import subprocess

import pytest
from django.core.management import get_commands

from tests.conftest import ROOT

PAGES = ["README.md", "DEVELOPERS.md"]
TOP_LEVEL = {
    ".ci",
    ".dockerignore",
    ".gitattributes",
    ".gitignore",
    "DEVELOPERS.md",
    "LICENSE",
    "README.md",
    "bin",
    "docker",
    "estimates",
    "installer_site",
    "jobs",
    "layout",
    "manage.py",
    "pyproject.toml",
    "requirements-dev.lock",
    "requirements.lock",
    "templates",
    "tests",
}


def variables_read() -> set[str]:
    """Return every environment variable that settings and their readers ask for."""
    code = "".join(
        (ROOT / "installer_site" / name).read_text() for name in ("settings.py", "env.py")
    )
    return set(re.findall(r'read_\w+\(\s*(?:ENV|env), "([A-Z_]+)"', code))


def tracked(*patterns: str) -> list[str]:
    """Return the files git knows, and those it would add, under the patterns."""
    listed = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard", *patterns],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    return listed.stdout.splitlines()


@pytest.mark.parametrize("document", PAGES)
def test_every_script_named_exists(document: str) -> None:
    text = (ROOT / document).read_text()
    named = set(re.findall(r"(?<![\w/.])(?:bin|\.ci|docker)/[\w.-]+\b", text))
    assert named
    assert {name for name in named if not (ROOT / name).exists()} == set()


@pytest.mark.parametrize("document", PAGES)
def test_every_command_named_exists(document: str) -> None:
    named = set(re.findall(r"manage\.py ([a-z]\w*)", (ROOT / document).read_text()))
    assert named <= set(get_commands())


@pytest.mark.parametrize("document", PAGES)
def test_every_file_linked_exists(document: str) -> None:
    linked = re.findall(r"\]\(([^)#:]+)\)", (ROOT / document).read_text())
    assert [link for link in linked if not (ROOT / link).exists()] == []


def test_the_table_of_variables_is_what_settings_read() -> None:
    rows = re.findall(r"^\| `([A-Z_]+)` \|", (ROOT / "DEVELOPERS.md").read_text(), re.MULTILINE)
    assert len(rows) == len(set(rows))
    assert set(rows) == variables_read()


def test_the_contracts_listed_are_those_checked() -> None:
    listed = re.findall(r"^\| `([a-z-]+)` \|", (ROOT / "DEVELOPERS.md").read_text(), re.MULTILINE)
    checked = re.findall(r'^id = "(.+)"$', (ROOT / "pyproject.toml").read_text(), re.MULTILINE)
    assert listed == checked


def test_the_top_level_holds_only_what_belongs_there() -> None:
    assert {name.partition("/")[0] for name in tracked()} <= TOP_LEVEL


def test_no_file_of_code_has_outgrown_itself() -> None:
    long = {
        name: lines
        for name in tracked("*.py", "*.html", "*.js", "*.css", "bin/*")
        if (lines := len((ROOT / name).read_text().splitlines())) > 350
        and "/vendor/" not in name
        and "/migrations/" not in name
    }
    assert long == {}


def test_the_tree_names_no_folder_of_a_machine() -> None:
    homes = re.compile(r"/(?:root|home/\w+|work)/")
    named = [
        name
        for name in tracked("*.py", "*.html", "*.js", "*.css", "*.md", "*.toml", "*.yaml", "bin/*")
        if homes.search((ROOT / name).read_text()) and name != "tests/house/test_docs.py"
    ]
    assert named == []
