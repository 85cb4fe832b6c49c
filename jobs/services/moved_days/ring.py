"""Tasks that wait for each other in a ring, said by the names that the crew gives them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager

from jobs.domain.checks import BadValueError
from jobs.domain.tasks import Task

_ORDER = "order"


@contextmanager
def ring_in_words(tasks: Sequence[Task]) -> Iterator[None]:
    """Name the tasks of a ring of waiting, where planning them meets one.

    Raises BadValueError as the planning does.
    """
    try:
        yield
    except BadValueError as bad:
        if bad.field != _ORDER:
            raise
        names = {
            task.key: f"{task.label} ({task.zone})" if task.zone else task.label for task in tasks
        }
        keys = str(bad.value).split(", ")
        raise BadValueError(
            field="what waits for what",
            value=", ".join(names.get(key, key) for key in keys),
            accepted="work that does not wait for itself",
        ) from None
