"""Things removed so that they can be brought back, with all that went with them.

What goes is what the tables say goes with a row. Its rows are kept as the framework writes rows,
under the keys that they had, beside a list of the rows that stayed and pointed at one of them.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import cast

from django.apps import apps
from django.core import serializers
from django.db import models, transaction
from django.db.models.deletion import Collector, ProtectedError
from django.utils import timezone

from jobs.domain.checks import BadValueError
from jobs.domain.copies import name_beside
from jobs.models import Company, FloorZone, Removal, RemovedKind, Room, StairFlight, User
from jobs.services.records import audit

Link = dict[str, object]


@transaction.atomic
def take_out(
    row: models.Model,
    *,
    kind: RemovedKind,
    company: Company,
    user: User,
    where: str = "",
    links: Sequence[Link] = (),
) -> Removal:
    """Return what is kept of ``row``, which is gone then, with all that goes with it.

    ``links``: further rows that stay and are to be as they were once the row is back.

    Raises BadValueError where something that stays can't be without it.
    """
    collector = Collector(using="default", origin=row)
    try:
        collector.collect([row])
    except ProtectedError as needed:
        raise _needed(row, needed) from None
    removal = Removal.objects.create(
        company=company,
        kind=kind,
        row=row.pk,
        label=str(row)[:160],
        where=where[:200],
        rows=serializers.serialize("json", [row, *_going_with(row, collector)]),
        links=[*links, *_links_of(collector)],
        user=user,
    )
    type(row)._base_manager.filter(pk=row.pk).delete()  # noqa: SLF001  as below
    return removal


@transaction.atomic
def put_back(*, removal: Removal, user: User) -> Removal:
    """Return the removal, undone; brought back twice, a thing is there once.

    Where its name was given to another meanwhile, it gets a number behind it.

    Raises BadValueError where what it belonged to is gone, or a row can't be read any more.
    """
    kept = Removal.objects.select_for_update().get(pk=removal.pk)
    if kept.restored_at is not None:
        return kept
    rows = _rows_of(kept)
    _refuse_lost(kept, rows)
    _keep_names_apart(rows[0])
    for row in rows:
        models.Model.save_base(row, raw=True, force_insert=True)
    for link in kept.links:
        _tie(link)
    kept.restored_at = timezone.now()
    kept.save(update_fields=["restored_at"])
    subject = f"{kept.kind} {kept.row}"
    audit(user=user, company=kept.company, subject=subject, act=f"Brought back {kept.label}")
    return kept


def link_of(row: models.Model, *, empty: str, columns: Iterable[str]) -> Link:
    """Return how a row that stays points at one that goes, to be tied again by `put_back`.

    ``empty`` is the column that will point nowhere; ``columns`` are all that will change.
    """
    was = {name: _plain(getattr(row, name)) for name in columns}
    return {"model": row._meta.label_lower, "pk": row.pk, "empty": empty, "was": was}  # noqa: SLF001  public by Django's documentation


def _plain(value: object) -> object:
    return value if value is None or isinstance(value, int | str) else str(value)


def _needed(row: models.Model, needed: ProtectedError) -> BadValueError:
    """Return the refusal that names what can't be without a row."""
    users = sorted({str(one) for one in needed.protected_objects})
    shown = ", ".join(users[:3]) + (f" and {len(users) - 3} more" if len(users) > 3 else "")
    return BadValueError(field=str(row), value=f"needed by {shown}", accepted="what nothing needs")


def _going_with(row: models.Model, collector: Collector) -> list[models.Model]:
    """Return every row that goes with ``row``, read whole."""
    keys: dict[type[models.Model], set[int]] = {}
    for model, rows in collector.data.items():
        keys.setdefault(model, set()).update(one.pk for one in rows)
    for fast in collector.fast_deletes:
        keys.setdefault(fast.model, set()).update(fast.values_list("pk", flat=True))
    keys.setdefault(type(row), set()).discard(row.pk)
    return [
        one
        for model, pks in keys.items()
        for one in model._base_manager.filter(pk__in=pks).order_by("pk")  # noqa: SLF001  Django's documented way to all rows of a table
    ]


def _links_of(collector: Collector) -> list[Link]:
    """Return the rows that stay and will point nowhere, as `link_of` does."""
    links = []
    for (field, _), groups in collector.field_updates.items():
        gone = collector.data.get(field.model, set())
        # The framework says of a group only that it is rows; it is a list of them, or a query.
        rows = (one for group in groups for one in cast(Iterable[models.Model], group))
        staying = [one for one in rows if one not in gone]
        links += [link_of(one, empty=field.attname, columns=[field.attname]) for one in staying]
    return links


def _rows_of(removal: Removal) -> list[models.Model]:
    """Return the rows that went, unsaved, the thing itself first.

    A column that the tables have got since is at its default, one that they lost is left out.
    """
    try:
        read = serializers.deserialize("json", removal.rows, ignorenonexistent=True)
        rows = [one.object for one in read]
    except serializers.base.DeserializationError:
        rows = []
    if not rows or rows[0].pk != removal.row:
        value = "written by an older book and can't be read any more"
        accepted = "what this book can read"
        raise BadValueError(field=removal.label, value=value, accepted=accepted)
    return rows


def _refuse_lost(removal: Removal, rows: Sequence[models.Model]) -> None:
    """Let rows go without what is gone where they can; refuse where they can't."""
    back = {(type(row), row.pk) for row in rows}
    wanted: dict[type[models.Model], set[int]] = {}
    for row, field in _references(rows):
        key = getattr(row, field.attname)
        if key is not None and (field.related_model, key) not in back:
            wanted.setdefault(field.related_model, set()).add(key)
    there = {model: _there(model, keys) for model, keys in wanted.items()}
    for row, field in _references(rows):
        model, key = field.related_model, getattr(row, field.attname)
        if key is None or (model, key) in back or key in there[model]:
            continue
        if not field.null:
            name = model._meta.verbose_name  # noqa: SLF001  public by Django's documentation
            accepted = f"once the {name} is brought back"
            value = f"of a {name} that is gone"
            raise BadValueError(field=removal.label, value=value, accepted=accepted)
        setattr(row, field.attname, None)


# Any: the framework's reference from one table to another, whatever tables these are.
def _references(
    rows: Sequence[models.Model],
) -> list[tuple[models.Model, models.ForeignKey[models.Model, models.Model]]]:
    return [
        (row, field)
        for row in rows
        for field in row._meta.concrete_fields  # noqa: SLF001  public by Django's documentation
        if isinstance(field, models.ForeignKey)
    ]


def _there(model: type[models.Model], keys: set[int]) -> set[int]:
    kept = model._base_manager.filter(pk__in=keys)  # noqa: SLF001  as above
    return set(kept.values_list("pk", flat=True))


def _keep_names_apart(row: models.Model) -> None:
    """Give a thing of a job another name where its own was given to another meanwhile."""
    if isinstance(row, Room | FloorZone | StairFlight):
        others = type(row).objects.filter(job=row.job_id)
        row.name = name_beside(row.name, others.values_list("name", flat=True), longest=80)


def _tie(link: Link) -> None:
    """Let a row point again where it pointed, unless somebody let it point elsewhere since."""
    model = apps.get_model(str(link["model"]))
    loose = model._base_manager.filter(pk=link["pk"], **{f"{link['empty']}__isnull": True})  # noqa: SLF001  as above
    was = link["was"]
    if isinstance(was, dict):
        loose.update(**was)
