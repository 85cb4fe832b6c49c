"""The calendar links that a person may copy and revoke."""

from __future__ import annotations

from dataclasses import dataclass

from jobs.models import CalendarFeed, Company, Crew, User


@dataclass(frozen=True, kw_only=True, slots=True)
class FeedLine:
    """One calendar: whose it is, and its link where one was made. ``crew`` None: the person's."""

    name: str
    crew: Crew | None
    feed: CalendarFeed | None

    @property
    def is_open(self) -> bool:
        """Whether its link opens the calendar."""
        return self.feed is not None and self.feed.revoked_at is None

    @property
    def version(self) -> int:
        """The version of its link, 0 where none was made."""
        return self.feed.version if self.feed else 0


def feed_lines(company: Company, person: User) -> list[FeedLine]:
    """Return a person's calendar, and those of every crew for the owner."""
    feeds = company.feeds.select_related("crew", "person")
    mine = feeds.filter(person=person).first()
    lines = [FeedLine(name=person.name, crew=None, feed=mine)]
    if not person.is_owner:
        return lines
    by_crew = {feed.crew_id: feed for feed in feeds.filter(crew__isnull=False)}
    crews = company.crews.all()
    return [*lines, *(FeedLine(name=c.name, crew=c, feed=by_crew.get(c.pk)) for c in crews)]
