"""One word, one meaning: the names that things bear, read from the syntax tree."""

from __future__ import annotations

import ast
import re
from collections import defaultdict

import pytest

from tests.conftest import ROOT
from tests.house.code.source import bound_names, sources

# Words that say how a thing came here and not what it is: name the day, the plan, the totals.
VAGUE = frozenset({"told", "asked", "found", "own", "nought", "crumb", "hair"})
# Columns of tables; a column keeps its name, since a book keeps its columns.
COLUMNS = frozenset({"own_rules", "asked_by", "stop_asked"})


def vague_names(tree: ast.Module) -> list[str]:
    """Return the names that bear a vague word, each with its line."""
    return [
        f"{name}:{line}"
        for name, line in bound_names(tree)
        if VAGUE & set(name.lower().strip("_").split("_"))
        and name not in COLUMNS
        and not name.startswith("test_")
    ]


def test_no_thing_bears_a_vague_name() -> None:
    vague = {name: names for name, tree in sources() if (names := vague_names(tree))}
    assert vague == {}


@pytest.mark.parametrize(
    "source",
    [
        "told = 1",
        "def rows_told(): ...",
        "class Found: ...",
        "def plan(*, asked): ...",
        "plan.told",
        "_CRUMB = 0.01",
        "from jobs import told",
        "plan(own=1)",
    ],
)
def test_a_vague_name_is_caught_wherever_it_stands(source: str) -> None:
    assert vague_names(ast.parse(source))


def test_no_module_bears_a_vague_name() -> None:
    parts = {part for name, _ in sources() for part in re.split(r"[/_.]", name)}
    assert parts & VAGUE == set()


BRITISH = re.compile(
    r"colour|licence|metre(?!s?\")|labour|leveller|travell|cancell|centre|grey|acclimatis|optimis|catalogue"
    r"|organis|recognis|minimis|normalis|behaviour|favour|neighbour|honour|judgement",
    re.IGNORECASE,
)


def test_names_are_spelled_as_in_the_united_states() -> None:
    spelled = [
        f"{name}:{line} {word}"
        for name, tree in sources()
        for word, line in bound_names(tree)
        if BRITISH.search(word) and name != "tests/jobs/test_migrations.py"  # names old columns
    ]
    assert spelled == []


@pytest.mark.parametrize("document", ["README.md", "DEVELOPERS.md", "layout/README.md"])
def test_documents_are_spelled_as_in_the_united_states(document: str) -> None:
    assert BRITISH.findall((ROOT / document).read_text()) == []


def test_a_class_name_stands_once() -> None:
    homes = defaultdict(list)
    for name, tree in sources():
        for node in ast.walk(tree):
            # Django finds these two by their names.
            if isinstance(node, ast.ClassDef) and node.name not in ("Meta", "Command"):
                homes[node.name].append(name)
    assert {name: places for name, places in homes.items() if len(places) > 1} == {}


def test_a_name_is_imported_from_where_it_is_made() -> None:
    made = {_module(name): _made(tree) for name, tree in sources()}
    handed_on = [
        f"{name}:{node.lineno} {node.module}.{alias.name}"
        for name, tree in sources()
        for node in ast.walk(tree)
        if isinstance(node, ast.ImportFrom) and node.module in made
        for alias in node.names
        if not (
            alias.name in made[node.module]
            or f"{node.module}.{alias.name}" in made
            or node.module in PUBLIC
            or alias.name == "*"
        )
    ]
    assert handed_on == []


# Packages whose names are meant to be taken from the package: the core, and the tables.
PUBLIC = frozenset({"layout", "jobs.models", "estimates.models", "tests.settings"})


def _module(name: str) -> str:
    return name.removesuffix(".py").removesuffix("/__init__").replace("/", ".")


def _made(tree: ast.Module) -> set[str]:
    """Return the names that a module makes itself, at its top level or under a condition there."""
    names: set[str] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef | ast.ClassDef):
            names.add(node.name)
        elif isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store):
            names.add(node.id)
    return names


def test_a_boolean_says_whether() -> None:
    silent = [
        f"{name}:{node.lineno} {node.name}"
        for name, tree in sources("layout", "jobs", "estimates", "installer_site")
        for node in ast.walk(tree)
        if isinstance(node, ast.FunctionDef)
        and isinstance(node.returns, ast.Name)
        and node.returns.id == "bool"
        and (words := ast.get_docstring(node))
        and not words.startswith("Whether")
    ]
    assert silent == []
