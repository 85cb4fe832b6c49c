"""Which backups are kept, counted by hand."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from jobs.domain.backups.retention import BackupKind, MadeBackup, outlived
from jobs.domain.backups.standing import age_words, standing_of

NOON = datetime(2026, 11, 30, 12, 0, tzinfo=UTC)  # a Monday


def made(days_ago: float, kind: BackupKind = BackupKind.DAILY, **values: object) -> MadeBackup:
    """A backup made so many days before the thirtieth of November."""
    fields: dict[str, object] = {
        "name": f"{kind}-{days_ago}",
        "kind": kind,
        "moment": NOON - timedelta(days=days_ago),
        "size": 1,
        "sha256": "",
        "rows": 1,
        "tables": 1,
        "files": 0,
        "missing": 0,
        "version": "0.5.0",
        "encrypted": False,
    }
    return MadeBackup(**fields | values)  # type: ignore[arg-type]


def kept_days(count: int) -> list[int]:
    """The days ago of which daily backups are kept, of so many days one each."""
    every = [made(day) for day in range(count)]
    gone = {one.name for one in outlived(every)}
    return [day for day in range(count) if made(day).name not in gone]


def test_all_of_two_weeks_are_kept() -> None:
    assert kept_days(14) == list(range(14))


def test_of_older_weeks_and_months_the_last_day_is_kept() -> None:
    # Days 0 to 13 reach back to Nov 17. Weeks end on Sunday: Nov 29 is 1 day ago, Nov 22, 15, 8, 1
    # are 8, 15, 22, 29, Oct 25, 18, 11 are 36, 43, 50; with this week's Monday that would be nine,
    # so the eighth is Oct 18. Months: Oct 31 is 30 days ago, Sep 30 61, Aug 31 91.
    assert kept_days(100) == [*range(14), 15, 22, 29, 30, 36, 43, 61, 91]


def test_of_a_day_the_last_one_is_kept() -> None:
    assert [one.name for one in outlived([made(0), made(0.2)])] == ["daily-0.2"]


def test_of_other_kinds_five_are_kept() -> None:
    every = [made(day, BackupKind.BY_HAND) for day in range(7)]
    assert [one.name for one in outlived(every)] == ["by-hand-5", "by-hand-6"]


def test_a_backup_of_two_days_is_late() -> None:
    in_time, late = made(2), made(2.01)
    assert standing_of(in_time, now=NOON).state == "good"
    assert not standing_of(in_time, now=NOON).trouble
    assert standing_of(late, now=NOON).state == "stale"
    assert "2 days old" in standing_of(late, now=NOON).trouble


def test_a_new_book_has_two_days_for_its_first_backup() -> None:
    day, later = NOON - timedelta(days=2), NOON - timedelta(days=2, minutes=1)
    assert not standing_of(None, now=NOON, book_since=day).trouble
    assert "No backup" in standing_of(None, now=NOON, book_since=later).trouble


def test_a_failure_and_a_copy_that_is_not_there_are_said() -> None:
    failed = standing_of(made(0), now=NOON, failure="No room.")
    assert failed.trouble == "The last backup failed: No room."
    assert "second folder" in standing_of(made(0), now=NOON, copy_wanted="/disk").trouble
    there = made(0, copied_to="/disk")
    assert not standing_of(there, now=NOON, copy_wanted="/disk").trouble


def test_ages_are_said_in_the_largest_unit_of_which_there_are_two() -> None:
    ages = [timedelta(seconds=59), timedelta(minutes=1), timedelta(minutes=119)]
    ages += [timedelta(minutes=120), timedelta(hours=47), timedelta(hours=48)]
    words = ["0 minutes", "1 minute", "119 minutes", "2 hours", "47 hours", "2 days"]
    assert [age_words(age) for age in ages] == words
