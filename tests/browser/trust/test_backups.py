"""The owner makes a backup from the page and sees it done, on a phone and at a desk."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import expect
from pytest_django import Settings

from jobs.worker.worker import carry_out_waiting
from tests.axe import axe_faults
from tests.browser.hands import Hands

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


def test_a_backup_is_made_from_the_page(hands: Hands, settings: Settings, tmp_path: Path) -> None:
    settings.BACKUP_FOLDER = str(tmp_path / "backups")
    settings.BACKUP_HOUR = 2
    page = hands.page
    hands.open("/")
    page.get_by_role("link", name="Open the backups").click()
    page.get_by_role("button", name="Make a backup now").click()
    hands.see("backup-making")
    carry_out_waiting()
    expect(page.get_by_text("made by hand")).to_be_visible()
    hands.see("backups")
    assert axe_faults(page) == []
    hands.open("/")
    expect(page.get_by_text("Last backup: 0 minutes ago")).to_be_visible()
    (tmp_path / "backups").rename(tmp_path / "away")
    (tmp_path / "backups").write_text("no folder")
    hands.open("/company/backups")
    page.get_by_role("button", name="Make a backup now").click()
    carry_out_waiting()
    expect(page.get_by_text("The last backup failed")).to_be_visible()
    hands.see("backup-failed")
    hands.open("/")
    hands.see("home-not-safe")
