"""Rows that tie two companies, or two jobs, together: what no forged key may ever make.

Every table is walked by its foreign keys: where two of them lead to a company, it is the same one.
"""

from __future__ import annotations

from collections.abc import Iterator

from django.apps import apps
from django.db.models import F, ForeignKey, Model

from jobs.models import Job

Root = type[Model]
BETWEEN_JOBS = {
    ("jobs.LeftoverStock", "source"),
    ("jobs.LeftoverStock", "taken_by"),
}
"""What goes from one job to another by its own meaning."""


def ties(root: Root) -> list[str]:
    """Return every row that leads to two rows of the root, with the ways that it leads there."""
    tied = []
    for model in _ours():
        ways = list(_ways(model, root))
        for one, other in _pairs(ways):
            rows = model._base_manager.exclude(**{f"{one}__isnull": True})
            rows = rows.exclude(**{f"{other}__isnull": True}).exclude(**{one: F(other)})
            tied += [f"{model.__name__} {row.pk}: {one}, {other}" for row in rows]
    return tied


def ways_looked_at(root: Root) -> int:
    """Return how many pairs of ways are compared: none would be no check."""
    return sum(len(list(_pairs(list(_ways(model, root))))) for model in _ours())


def _ours() -> list[type[Model]]:
    return [model for model in apps.get_models() if model._meta.app_label in ("jobs", "estimates")]


def _pairs(ways: list[str]) -> Iterator[tuple[str, str]]:
    for number, one in enumerate(ways):
        for other in ways[number + 1 :]:
            yield one, other


def _ways(model: type[Model], root: Root) -> Iterator[str]:
    """Yield, for each foreign key of a model, the shortest way by it to the key of the root."""
    for field in _keys(model):
        if root is Job and (model._meta.label, field.name) in BETWEEN_JOBS:
            continue
        way = _shortest(field.related_model, root, frozenset({model}))
        if way is not None:
            yield "__".join([field.name, *way, "pk"])


def _keys(model: type[Model]) -> Iterator[ForeignKey[Model, Model]]:
    for field in model._meta.concrete_fields:
        if isinstance(field, ForeignKey):
            yield field


def _shortest(model: type[Model], root: Root, seen: frozenset[type[Model]]) -> list[str] | None:
    if model is root:
        return []
    if model in seen or len(seen) > 4:
        return None
    ways = []
    for field in _keys(model):
        way = _shortest(field.related_model, root, seen | {model})
        if way is not None:
            ways.append([field.name, *way])
    return min(ways, key=len, default=None)
