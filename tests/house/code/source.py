"""The project's own Python as syntax trees, for the tests that hold how it is written."""

from __future__ import annotations

import ast
import subprocess
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from tests.conftest import ROOT

PACKAGES = ("layout", "jobs", "estimates", "installer_site", "tests")


@cache
def sources(*packages: str) -> tuple[tuple[str, ast.Module], ...]:
    """Return every module of the packages, or of all, as path and tree; migrations aside."""
    listed = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard", "*.py"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    names = [name for name in listed.stdout.split() if (ROOT / name).exists()]
    wanted = packages or PACKAGES
    return tuple(
        (name, ast.parse((ROOT / name).read_text()))
        for name in sorted(names)
        if name.partition("/")[0] in wanted and "/migrations/" not in name
    )


def folders() -> dict[Path, list[str]]:
    """Return the modules of every folder of the packages, migrations aside."""
    modules: dict[Path, list[str]] = {}
    for name, _ in sources():
        path = Path(name)
        modules.setdefault(path.parent, []).append(path.name)
    return modules


def bound_names(tree: ast.Module) -> Iterator[tuple[str, int]]:
    """Yield every name that a module gives to a thing, with its line."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store):
            yield node.id, node.lineno
        elif isinstance(node, ast.arg):
            yield node.arg, node.lineno
        elif isinstance(node, ast.Attribute):
            yield node.attr, node.lineno
        elif isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef):
            yield node.name, node.lineno
        elif isinstance(node, ast.keyword) and node.arg:
            yield node.arg, node.value.lineno
        elif isinstance(node, ast.alias):
            yield node.asname or node.name.rpartition(".")[2], node.lineno
