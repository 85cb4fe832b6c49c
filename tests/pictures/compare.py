"""Two folders of pictures held against each other, pixel by pixel."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from PIL import Image, ImageChops


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """Two pictures of one name that differ: the share of pixels, and both sizes."""

    name: str
    share: float
    before: tuple[int, int]
    after: tuple[int, int]

    @property
    def words(self) -> str:
        """The difference on one line."""
        sizes = f"{_size(self.before)} -> {_size(self.after)}"
        return f"{self.share:8.3%}  {self.name}" + (
            f"  {sizes}" if self.before != self.after else ""
        )


def compare(before: Path, after: Path) -> list[str]:
    """Return the lines that say how many pictures are the same, and which differ, most first."""
    old, new = _pictures(before), _pictures(after)
    both = sorted(old.keys() & new.keys())
    differ = [one for name in both if (one := difference(name, old[name], new[name]))]
    differ.sort(key=lambda one: (-one.share, one.name))
    lines = [
        f"{len(both) - len(differ)} of {len(both)} pictures are the same, {len(differ)} differ."
    ]
    lines += [one.words for one in differ]
    lines += _only(before, old.keys() - new.keys())
    return [*lines, *_only(after, new.keys() - old.keys())]


def difference(name: str, before: Path, after: Path) -> Difference | None:
    """Return how two pictures differ, None where every pixel is the same.

    Pixels that only one of them has count as different.
    """
    if before.read_bytes() == after.read_bytes():
        return None
    with Image.open(before) as one, Image.open(after) as other:
        old, new = one.convert("RGB"), other.convert("RGB")
    width, height = max(old.width, new.width), max(old.height, new.height)
    common = (0, 0, min(old.width, new.width), min(old.height, new.height))
    same = _same_pixels(old.crop(common), new.crop(common))
    if same == width * height:
        return None
    return Difference(name=name, share=1 - same / (width * height), before=old.size, after=new.size)


def _same_pixels(old: Image.Image, new: Image.Image) -> int:
    """Return how many pixels of two pictures of one size are the same in every band."""
    red, green, blue = ImageChops.difference(old, new).split()
    most = ImageChops.lighter(ImageChops.lighter(red, green), blue)
    return most.histogram()[0]


def _pictures(folder: Path) -> dict[str, Path]:
    return {path.name: path for path in folder.glob("*.png")}


def _only(folder: Path, names: set[str]) -> Iterator[str]:
    for name in sorted(names):
        yield f"only in {folder}: {name}"


def _size(size: tuple[int, int]) -> str:
    return f"{size[0]} x {size[1]}"
