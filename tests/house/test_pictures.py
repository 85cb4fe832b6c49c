"""The tables of `bin/pictures` held against the URLconf, and how folders of pictures compare."""

from __future__ import annotations

from pathlib import Path

import pypdfium2
import pytest
from PIL import Image

from tests.access_doors import TABLE
from tests.pictures.__main__ import main
from tests.pictures.addresses import (
    BEST_JOB_FOR,
    EVERY_ROW,
    FILLS,
    NOT_PICTURED,
    Address,
    addresses,
    is_pictured,
)
from tests.pictures.camera import shoot_paper
from tests.pictures.compare import compare
from tests.pictures.held import SameEachTime
from tests.pictures.index import index_page
from tests.pictures.sights import LEAD, OWNER, Sight, is_wanted, widths
from tests.pictures.take import PicturedSight, faults_of, unseen_of

JOB = Sight(onlooker=OWNER, name="job", path="/jobs/4", stem="full-owner-job")
REFUSED = Sight(onlooker=LEAD, name="job-price", path="/jobs/4/price", stem="full-lead-job-price")
SHOWN = PicturedSight(
    sight=JOB, status=200, kind="text/html", files=(JOB.picture(390), JOB.picture(1280))
)
WITHHELD = PicturedSight(sight=REFUSED, status=403, kind="text/html")


def pictured_names() -> set[str]:
    """Return the names of the addresses that are pictured."""
    return {address.name for address in addresses() if is_pictured(address)}


def test_every_address_is_pictured_or_listed_with_a_reason() -> None:
    names = {address.name for address in addresses()}
    assert names - pictured_names() - NOT_PICTURED.keys() == set()


def test_every_reason_is_of_an_address_that_exists() -> None:
    assert NOT_PICTURED.keys() <= {address.name for address in addresses()}
    assert all(NOT_PICTURED.values())


def test_what_answers_nobody_with_a_page_is_listed_and_not_counted_as_pictured() -> None:
    closed = {door.name for door in TABLE if "k" not in door.get}
    assert closed
    assert closed & pictured_names() == set()


def test_an_address_that_nothing_fills_is_not_pictured() -> None:
    assert not is_pictured(Address(name="attic", route="attics/<int:pk>"))
    assert not is_pictured(Address(name="attic-beam", route="jobs/<int:pk>/beams/<int:beam>"))


def test_a_new_page_about_a_job_is_pictured_without_being_named() -> None:
    assert is_pictured(Address(name="job-attic", route="jobs/<int:pk>/attic"))


def test_the_tables_name_no_page_and_no_argument_that_is_gone() -> None:
    assert BEST_JOB_FOR.keys() <= pictured_names()
    assert pictured_names() >= EVERY_ROW
    assert FILLS.keys() <= {shape for address in addresses() for shape in address.shapes}


@pytest.mark.parametrize(
    ("names", "chosen"),
    [((), [390, 1280]), (("job",), [390, 1280]), (("owner-job-390",), [390]), (("crew",), [])],
)
def test_a_name_chooses_by_url_name_or_by_file_name(
    names: tuple[str, ...], chosen: list[int]
) -> None:
    assert widths(JOB, names) == chosen
    assert is_wanted(JOB, names) is bool(chosen)


def test_a_page_that_nobody_got_and_a_fault_of_the_site_are_named() -> None:
    broken = PicturedSight(sight=JOB, status=500, kind="text/html")
    assert unseen_of([JOB, REFUSED], [SHOWN, WITHHELD]) == ["job-price"]
    assert faults_of([SHOWN, WITHHELD]) == []
    assert faults_of([broken]) == ["/jobs/4 was answered with 500 to the owner"]


def test_the_index_shows_pictures_papers_refusals_and_reasons() -> None:
    paper = PicturedSight(
        sight=JOB, status=200, kind="application/pdf", files=("full-owner-job.pdf",)
    )
    page = index_page([SHOWN, WITHHELD, paper], {"healthz": "an answer for programs"})
    assert '<img src="full-owner-job-390.png"' in page
    assert '<a href="full-owner-job.pdf">' in page
    assert "full company, lead: 403, /jobs/4/price" in page
    assert "<th>healthz</th><td>an answer for programs</td>" in page
    assert "<script" not in page


def test_chance_is_the_same_each_time_and_never_twice_in_one_run() -> None:
    first, second = SameEachTime(), SameEachTime()
    drawn = [first(24) for _ in range(3)]
    assert drawn == [second(24) for _ in range(3)]
    assert len(set(drawn)) == 3
    assert {len(token) for token in drawn} == {32}


def test_every_page_of_a_paper_becomes_a_picture(tmp_path: Path) -> None:
    paper = tmp_path / "quote.pdf"
    document = pypdfium2.PdfDocument.new()
    for _ in range(2):
        document.new_page(612, 792)
    document.save(paper)
    pictures = shoot_paper(paper)
    assert [picture.name for picture in pictures] == ["quote-page-01.png", "quote-page-02.png"]
    with Image.open(pictures[0]) as first:
        assert first.size == (918, 1188)


@pytest.fixture(name="folders")
def two_folders(tmp_path: Path) -> tuple[Path, Path]:
    """Return two folders with one picture of ten by ten each, all white."""
    folders = (tmp_path / "before", tmp_path / "after")
    for folder in folders:
        folder.mkdir()
        Image.new("RGB", (10, 10), "white").save(folder / "job.png")
    return folders


def test_pictures_with_the_same_pixels_are_the_same(folders: tuple[Path, Path]) -> None:
    Image.new("RGB", (10, 10), "white").save(folders[1] / "job.png", compress_level=0)
    assert compare(*folders) == ["1 of 1 pictures are the same, 0 differ."]


def test_one_pixel_that_differs_is_a_difference(folders: tuple[Path, Path]) -> None:
    picture = Image.new("RGB", (10, 10), "white")
    picture.putpixel((3, 3), (255, 255, 254))
    picture.save(folders[1] / "job.png")
    assert compare(*folders) == ["0 of 1 pictures are the same, 1 differ.", "  1.000%  job.png"]


def test_a_longer_page_differs_by_what_it_is_longer(folders: tuple[Path, Path]) -> None:
    Image.new("RGB", (10, 20), "white").save(folders[1] / "job.png")
    assert compare(*folders)[1] == " 50.000%  job.png  10 x 10 -> 10 x 20"


def test_a_picture_that_only_one_folder_has_is_named(folders: tuple[Path, Path]) -> None:
    before, after = folders
    Image.new("RGB", (10, 10)).save(before / "gone.png")
    Image.new("RGB", (10, 10)).save(after / "new.png")
    assert compare(before, after)[1:] == [
        f"only in {before}: gone.png",
        f"only in {after}: new.png",
    ]


def test_comparing_succeeds_whatever_differs(
    folders: tuple[Path, Path], capsys: pytest.CaptureFixture[str]
) -> None:
    Image.new("RGB", (10, 10), "black").save(folders[1] / "job.png")
    assert main(["--compare", *map(str, folders)]) == 0
    assert "0 of 1 pictures are the same, 1 differ." in capsys.readouterr().out


def test_a_folder_without_pictures_can_not_be_compared(
    folders: tuple[Path, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["--compare", str(folders[0]), str(tmp_path / "nowhere")]) == 2
    assert "nowhere can't be compared: a folder with pictures is needed" in capsys.readouterr().err


def test_a_folder_with_anything_else_in_it_is_left_alone(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "holiday.png").touch()
    assert main([str(tmp_path)]) == 2
    assert "it holds what bin/pictures did not make" in capsys.readouterr().err
    assert (tmp_path / "holiday.png").exists()
