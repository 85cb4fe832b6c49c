"""What waits on Home is read by urgency: what stands against a near day first, then the newest."""

from __future__ import annotations

from datetime import UTC, date, datetime

from jobs.readers.today import NEAR_DAYS, Waiting, by_urgency

TODAY = date(2026, 10, 21)


def line(text: str, day: int, *, stops: int | None = None) -> Waiting:
    at = datetime(2026, 10, day, 12, tzinfo=UTC)
    return Waiting(text=text, url="/", at=at, kind="hold", stops=stops)


def test_a_hold_for_tomorrow_comes_before_a_notice_of_today() -> None:
    lines = [line("seen", 21), line("hold", 2, stops=7), line("packet", 3, stops=4)]
    ahead = {7: date(2026, 10, 22), 4: date(2026, 10, 26)}

    ranked = by_urgency(lines, ahead, TODAY)

    assert [(one.text, one.before) for one in ranked] == [
        ("hold", date(2026, 10, 22)),
        ("packet", date(2026, 10, 26)),
        ("seen", None),
    ]


def test_a_day_that_is_not_near_hurries_nothing() -> None:
    lines = [line("old hold", 2, stops=7), line("seen", 21)]

    last_near = date(2026, 10, 21 + NEAR_DAYS - 1)
    assert next(one.text for one in by_urgency(lines, {7: last_near}, TODAY)) == "old hold"
    beyond = date(2026, 10, 21 + NEAR_DAYS)
    assert next(one.text for one in by_urgency(lines, {7: beyond}, TODAY)) == "seen"


def test_without_days_the_newest_comes_first() -> None:
    lines = [line("older", 3, stops=1), line("newer", 4, stops=2)]
    assert [one.text for one in by_urgency(lines, {}, TODAY)] == ["newer", "older"]
