"""The house as a whole: few things flat, no crowded folder, few arrows between rooms."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.house.arrows import arrows
from tests.house.code.source import folders

MOST_IN_A_FOLDER = 16
MOST_FLAT = {"jobs": 12, "layout": 4, "estimates": 6}
MOST_ARROWS = 60


def test_no_folder_is_crowded() -> None:
    crowded = {str(folder): len(names) for folder, names in folders().items()}
    assert {folder: n for folder, n in crowded.items() if n > MOST_IN_A_FOLDER} == {}


@pytest.mark.parametrize("package", MOST_FLAT)
def test_few_modules_stand_flat(package: str) -> None:
    assert len(folders()[Path(package)]) <= MOST_FLAT[package]


def test_few_arrows_run_between_the_rooms_of_jobs() -> None:
    assert 0 < len(arrows("jobs")) < MOST_ARROWS


def test_tests_mirror_the_tree() -> None:
    packages = {str(folder) for folder in folders()}
    mirrored = [
        str(folder)
        for folder in folders()
        if folder.parts[:2] in {("tests", "layout"), ("tests", "jobs"), ("tests", "estimates")}
        and str(folder.relative_to("tests")) not in packages
        and folder != Path("tests/jobs/errand_lab")
    ]
    assert mirrored == []
