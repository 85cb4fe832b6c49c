"""What stands beside the hours of a log, and goes when the last of its entries is undone."""

from __future__ import annotations

from dataclasses import dataclass

from jobs.models import LogEntry


@dataclass(frozen=True, kw_only=True, slots=True)
class Beside:
    """How much stands beside the entries of a log; `is_last`: it goes with the entry."""

    is_last: bool
    photographs: int = 0
    punch: tuple[str, ...] = ()

    @property
    def words(self) -> list[str]:
        """What goes with the entry, in words; nothing where others of its log stay."""
        return self._words() if self.is_last else []

    @property
    def consequences(self) -> list[str]:
        """What becomes of it, a sentence each."""
        what = " and ".join(self._words())
        if not what:
            return []
        if self.is_last:
            return [f"It is the last entry of its log; with it goes: {what}."]
        return [f"Other entries of the same log stay, and with them: {what}."]

    def _words(self) -> list[str]:
        said = []
        if self.photographs:
            said.append(f"{self.photographs} photograph{'s' if self.photographs > 1 else ''}")
        if self.punch:
            said.append(f"of the punch list “{'”, “'.join(self.punch)}”")
        return said


def goes_with(entry: LogEntry) -> Beside:
    """Return what stands beside an entry in its log."""
    log = entry.log
    if log is None:
        return Beside(is_last=False)
    open_items = log.punch_items.filter(done_at__isnull=True)
    return Beside(
        is_last=not log.entries.exclude(pk=entry.pk).exists(),
        photographs=log.photos.count(),
        punch=tuple(open_items.values_list("text", flat=True)),
    )
