"""The list of edits, read from its tables, and where in the code each of them stands."""

from __future__ import annotations

import ast
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from tests.conftest import ROOT

Named = ast.FunctionDef | ast.ClassDef | ast.AsyncFunctionDef
TABLES = Path(__file__).parent / "edits"


@dataclass(frozen=True, kw_only=True, slots=True)
class Edit:
    """One small mistake: where it is made, of which kind, and the tests that should notice it."""

    name: str
    kind: str
    file: str
    old: str
    new: str
    tests: tuple[str, ...]

    def wrong(self, text: str) -> str:
        """Return the text of the file with the mistake in it."""
        return text.replace(self.old, self.new)


def edits() -> tuple[Edit, ...]:
    """Return all edits, table by table."""
    return tuple(
        Edit(**row | {"tests": tuple(row["tests"])})
        for table in sorted(TABLES.glob("*.toml"))
        for row in tomllib.loads(table.read_text())["edit"]
    )


def place_of(edit: Edit) -> str:
    """Return the function, class or constant that an edit stands in, as file:name."""
    text = (ROOT / edit.file).read_text()
    line = text[: text.index(edit.old)].count("\n") + 1 + _lead(edit.old)
    tree = ast.parse(text)
    names = [node.name for node in _around(tree, line)] or list(_named_at(tree, line))
    return f"{edit.file}:{'.'.join(names)}"


def _lead(old: str) -> int:
    """Return how many lines of a passage go before its first word."""
    return len(old) - len(old.lstrip("\n"))


def _around(tree: ast.AST, line: int) -> Iterator[Named]:
    """Yield the functions and classes round a line, the outermost first."""
    for node in ast.iter_child_nodes(tree):
        if isinstance(node, Named) and node.lineno <= line <= (node.end_lineno or node.lineno):
            yield node
            yield from _around(node, line)


def _named_at(tree: ast.Module, line: int) -> Iterator[str]:
    """Yield the names that a statement of a module gives a value, where it stands on a line."""
    for node in tree.body:
        if node.lineno <= line <= (node.end_lineno or node.lineno):
            yield from (each.id for each in ast.walk(node) if isinstance(each, ast.Name))
