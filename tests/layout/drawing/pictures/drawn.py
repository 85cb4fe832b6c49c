"""What is read from a small picture: its words by class, and how many shapes of a class it has."""

from __future__ import annotations

from xml.etree import ElementTree

SVG = "{http://www.w3.org/2000/svg}"


def words_of(svg: str, name: str) -> list[str]:
    """Return the words of one class, in the order in which they were written."""
    texts = ElementTree.fromstring(svg).iter(f"{SVG}text")
    return [str(text.text) for text in texts if text.get("class") == name]


def count_of(svg: str, name: str) -> int:
    """Return how many lines of one class there are."""
    paths = ElementTree.fromstring(svg).iter(f"{SVG}path")
    return sum(path.get("class") == name for path in paths)


def is_hatched(svg: str) -> bool:
    """Whether anything in a picture is hatched; only waste may be."""
    return "pattern" in svg or 'class="waste"' in svg
