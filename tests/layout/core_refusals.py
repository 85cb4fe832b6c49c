"""Every refusal that the layout core's code can make, made once from its source.

The fields, values and sentences are taken from the raise statements themselves: what stands there
as text stays, what is filled in gets a number, so that a new refusal is tried as soon as it exists.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path

import layout
from layout.values.errors import Described, InputError, LayoutError

CORE = Path(layout.__file__).parent
APART = ("__main__.py",)
"""What only the command line says."""


def refusals() -> Iterator[tuple[str, LayoutError]]:
    """Yield the place of each raise statement of the core with the error that it raises."""
    for path in sorted(CORE.rglob("*.py")):
        if path.name in APART:
            continue
        module = import_module(".".join(path.relative_to(CORE.parent).with_suffix("").parts))
        tree = ast.parse(path.read_text(encoding="utf-8"))
        for function in ast.walk(tree):
            if isinstance(function, ast.FunctionDef):
                yield from _of_function(function, str(path.relative_to(CORE)), vars(module))


def _of_function(
    function: ast.FunctionDef, file: str, names: dict[str, object]
) -> Iterator[tuple[str, LayoutError]]:
    texts: dict[str, str] = {}
    for node in ast.walk(function):
        texts |= _assigned(node)
    for node in ast.walk(function):
        error = _raised(node, names, texts)
        if error is not None:
            yield f"{file}:{getattr(node, 'lineno', 0)}", error


def _assigned(node: ast.AST) -> dict[str, str]:
    """Return the text that a statement gives a name, as far as it is text."""
    if isinstance(node, ast.Assign) and isinstance(node.targets[0], ast.Name):
        said = _text(node.value, {})
        return {node.targets[0].id: said} if said else {}
    return {}


def _raised(node: ast.AST, names: dict[str, object], texts: dict[str, str]) -> LayoutError | None:
    if not (isinstance(node, ast.Raise) and isinstance(node.exc, ast.Call)):
        return None
    call = node.exc
    kind = names.get(call.func.id) if isinstance(call.func, ast.Name) else None
    if not (isinstance(kind, type) and issubclass(kind, LayoutError)):
        return None
    said = [_text(argument, texts) for argument in call.args]
    if issubclass(kind, InputError):
        return kind(said[0] or "some.field[3]", Described(said[1] or "3"), said[2] or "3")
    return kind(*said)


def _text(node: ast.AST, texts: dict[str, str]) -> str:
    """Return a text as it stands in the source, with 3 in every place that is filled in."""
    match node:
        case ast.Constant(value=str(said)):
            return said
        case ast.JoinedStr(values=parts):
            return "".join(_text(part, texts) or "3" for part in parts)
        case ast.Name(id=name):
            return texts.get(name, "")
        case ast.Call(func=ast.Name(id="Described"), args=[inner]):
            return _text(inner, texts)
        case ast.Call(func=ast.Attribute(attr="path"), args=[inner]):
            return "zone." + _text(inner, texts)
        case _:
            return ""


CORE_WORDS = re.compile(
    r"[a-z]\.[a-z]|\w_\w|\[\d*\]|[{}]|\b(zone|ring|null|edge \d|edges \d|hole \d|polygon|request"
    r"|object|offcuts_gone|laid_ids|proof|highs|solver|certificate|variant|board)\b",
    re.IGNORECASE,
)
"""What only those who know the core's form would understand."""
