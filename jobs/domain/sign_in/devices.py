"""A browser in words that its person knows it by: what it is and what it runs on."""

from __future__ import annotations

UNKNOWN = "A browser that does not say what it is"

# The first that stands in what a browser calls itself; later ones stand in the names of earlier.
_MACHINES = (
    ("iPhone", "iPhone"),
    ("iPad", "iPad"),
    ("Android", "Android"),
    ("Windows", "Windows"),
    ("CrOS", "Chromebook"),
    ("Macintosh", "Mac"),
    ("Linux", "Linux"),
)
_BROWSERS = (
    ("Edg", "Edge"),
    ("OPR/", "Opera"),
    ("SamsungBrowser", "Samsung Internet"),
    ("Firefox", "Firefox"),
    ("FxiOS", "Firefox"),
    ("CriOS", "Chrome"),
    ("Chrome", "Chrome"),
    ("Safari", "Safari"),
)


def device_words(agent: str) -> str:
    """Return what a browser is and runs on, from what it calls itself (its User-Agent)."""
    browser = next((word for mark, word in _BROWSERS if mark in agent), "")
    machine = next((word for mark, word in _MACHINES if mark in agent), "")
    if browser and machine:
        return f"{browser} on {machine}"
    return browser or machine or UNKNOWN
