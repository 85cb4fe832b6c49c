"""What stands beside the hours of a log, and goes when the last of its entries is undone."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from jobs.domain.site.moisture import LOG, METHODS, reading_of
from jobs.models import DayLog, JobExtra, LogEntry, SiteFacts
from jobs.readers.site import cautions_of


@dataclass(frozen=True, kw_only=True, slots=True)
class Beside:
    """What stands beside the entries of a log, in words; `is_last`: it goes with the entry."""

    is_last: bool
    said: tuple[str, ...] = ()

    @property
    def words(self) -> tuple[str, ...]:
        """What goes with the entry, in words; nothing where others of its log stay."""
        return self.said if self.is_last else ()

    @property
    def consequences(self) -> list[str]:
        """What becomes of it, a sentence each."""
        what = " and ".join(self.said)
        if not what:
            return []
        if self.is_last:
            return [f"It is the last entry of its log; with it goes: {what}."]
        return [f"Other entries of the same log stay, and with them: {what}."]


def goes_with(entry: LogEntry) -> Beside:
    """Return what stands beside an entry in its log."""
    log = entry.log
    if log is None:
        return Beside(is_last=False)
    return Beside(
        is_last=not log.entries.exclude(pk=entry.pk).exists(),
        said=(
            *_photographs(log),
            *_named("of the punch list", _texts(log, "punch_items", done=False)),
            *_named("put right", _texts(log, "punch_done", done=True)),
            *_named("of moisture", [_reading_words(row) for row in readings_from(log)]),
            *_named("the clearing of", _holds(log)),
            *_named("extra work", [extra.text for extra in extras_from(log)]),
        ),
    )


def readings_from(log: DayLog) -> list[Mapping[str, str]]:
    """Return the readings of a job that came with this log, as the job keeps them."""
    site = SiteFacts.objects.filter(job=log.day.job_id).first()
    return [row for row in site.readings if is_from(row, log)] if site else []


def is_from(row: Mapping[str, str], log: DayLog) -> bool:
    """Whether a reading that a job keeps came with this log."""
    return row.get(LOG) == str(log.pk)


def extras_from(log: DayLog) -> list[JobExtra]:
    """Return the extra work that came with this log and still stands."""
    return list(log.extras.filter(dropped_at__isnull=True))


def _photographs(log: DayLog) -> list[str]:
    count = log.photos.count()
    return [f"{count} photograph{'s' if count > 1 else ''}"] if count else []


def _named(what: str, names: list[str]) -> list[str]:
    return [f"{what} “{'”, “'.join(names)}”"] if names else []


def _texts(log: DayLog, name: str, *, done: bool) -> list[str]:
    items = getattr(log, name).filter(done_at__isnull=not done)
    return list(items.values_list("text", flat=True))


def _reading_words(row: Mapping[str, str]) -> str:
    reading = reading_of(row)
    value = f"{reading.value.normalize():f} {METHODS[reading.method].unit}".strip()
    return f"{reading.where}, {value}" if reading.where else value


def _holds(log: DayLog) -> list[str]:
    codes = list(log.clearances.order_by("pk").values_list("code", flat=True))
    if not codes:
        return []
    titles = {caution.code: caution.title for caution in cautions_of(log.day.job)}
    return [titles.get(code, code) for code in codes]
