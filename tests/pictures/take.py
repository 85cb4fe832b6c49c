"""Every sight looked at: requested first, then pictured where the answer is a page or a paper."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator
from contextlib import closing
from dataclasses import dataclass, replace
from hashlib import sha256
from pathlib import Path

from tests.pictures.camera import Camera, browser, shoot_paper
from tests.pictures.sights import ONLOOKERS, Onlooker, Sight, is_paper_wanted, is_wanted, widths
from tests.pictures.site import EMPTY_EMAIL, EMPTY_PASSWORD, sign_ins
from tests.pictures.visitor import Visitor


@dataclass(frozen=True, slots=True, kw_only=True)
class PicturedSight:
    """What came of a sight: how it was answered, and the files it left, pictures and PDF.

    ``same_as``: the PDF of another sight that is the same to the byte; it leaves no files again.
    ``late``: the widths at which the page did not come in time; it has no picture there.
    """

    sight: Sight
    status: int
    kind: str
    files: tuple[str, ...] = ()
    same_as: str = ""
    late: tuple[int, ...] = ()

    @property
    def pictures(self) -> tuple[str, ...]:
        """The names of the pictures."""
        return tuple(file for file in self.files if file.endswith(".png"))


class Studio:
    """Takes what people see into a folder: what bears one of the names, or everything."""

    def __init__(self, folder: Path, names: list[str]) -> None:
        self._folder, self._names = folder, names
        self._papers: dict[bytes, str] = {}

    def take(self, sight: Sight, visitor: Visitor, camera: Camera) -> PicturedSight:
        """Return what came of a sight: requested by the visitor, pictured by the camera."""
        answer = visitor.get(sight.path)
        outcome = PicturedSight(sight=sight, status=answer.status, kind=answer.kind)
        if answer.status == 200 and answer.kind == "text/html":
            return self._pages(outcome, camera)
        if answer.status == 200 and answer.kind == "application/pdf":
            return self._paper(outcome, answer.body)
        return outcome

    def _pages(self, outcome: PicturedSight, camera: Camera) -> PicturedSight:
        sight = outcome.sight
        came = {
            width: camera.shoot(sight.path, width, self._folder / sight.picture(width))
            for width in widths(sight, self._names)
        }
        return replace(
            outcome,
            files=tuple(sight.picture(width) for width, in_time in came.items() if in_time),
            late=tuple(width for width, in_time in came.items() if not in_time),
        )

    def _paper(self, outcome: PicturedSight, content: bytes) -> PicturedSight:
        digest = sha256(content).digest()
        if digest in self._papers:
            return replace(outcome, same_as=self._papers[digest])
        if not is_paper_wanted(outcome.sight, self._names):
            return outcome
        paper = self._folder / outcome.sight.paper
        paper.write_bytes(content)
        self._papers[digest] = paper.name
        files = (paper.name, *(picture.name for picture in shoot_paper(paper)))
        return replace(outcome, files=files)


def take_all(
    seen: Iterable[Sight], *, port: int, folder: Path, names: list[str]
) -> Iterator[PicturedSight]:
    """Yield what came of every sight that is wanted, role by role, in one browser."""
    wanted = [one for one in seen if is_wanted(one, names)]
    passwords, studio = sign_ins(), Studio(folder, names)
    with browser(port) as opened:
        for onlooker in ONLOOKERS:
            theirs = [one for one in wanted if one.onlooker == onlooker]
            if not theirs:
                continue
            sys.stdout.write(
                f"{onlooker.company} company, {onlooker.role}: {len(theirs)} addresses\n"
            )
            sys.stdout.flush()
            visitor = _visitor(onlooker, port, passwords)
            with closing(Camera(opened, visitor.cookies)) as camera:
                yield from (studio.take(one, visitor, camera) for one in theirs)


def _visitor(onlooker: Onlooker, port: int, passwords: dict[str, tuple[str, str]]) -> Visitor:
    visitor = Visitor(port)
    if onlooker.company == "empty":
        visitor.sign_in(EMPTY_EMAIL, EMPTY_PASSWORD)
    elif onlooker.signs_in_as:
        visitor.sign_in(*passwords[onlooker.signs_in_as])
    return visitor


def unseen_of(wanted: Iterable[Sight], outcomes: Iterable[PicturedSight]) -> list[str]:
    """Return the names of addresses that gave nobody a page."""
    seen = {one.sight.name for one in outcomes if one.files or one.same_as}
    return sorted({one.name for one in wanted} - seen)


def faults_of(outcomes: Iterable[PicturedSight]) -> list[str]:
    """Return a line for every answer that was a fault of the site, or did not come in time."""
    return [
        f"{one.sight.path} was answered with {one.status} to the {one.sight.onlooker.role}"
        for one in outcomes
        if one.status >= 500
    ] + [
        f"{one.sight.path} did not come in time to the {one.sight.onlooker.role} at {width} px"
        for one in outcomes
        for width in one.late
    ]
