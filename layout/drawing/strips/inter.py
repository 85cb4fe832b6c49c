"""How wide lettering of the documents comes out: advance widths of Inter, in thousandths of a size.

Read from the fonts among the static files (Inter 4, SIL Open Font License), rounded up to 20.
"""

from __future__ import annotations

_REGULAR = {
    240: "'ijl",
    280: "I !,.:;\u2044·",
    320: "|¹₁",
    360: "()/[\\]ft{}",
    400: 'r"⁷₇',
    440: "²⁵⁶⁸⁹₂₅₆₈₉⁰³⁴₀₃₄",
    520: "-1^_°*?s",
    560: "JkxzLacvy",
    600: "7Fenu25Eghopq",
    640: "0689Zbd#$&34PRSTX",
    680: "+<=>BKY~×AV",
    760: "CDGHUNOQ",
    900: "%wmM¼⅞",
    1000: "½@W¾⅛⅜⅝",
}
_BOLD = {
    280: " 'ijlI\u2044",
    320: "!,.:;·¹₁",
    400: '|/\\ft"()[]r{}⁷₇',
    460: "²⁵₂₅³⁶⁸⁹₃₆₈₉-_⁰⁴₀₄°",
    540: "1^*?s",
    580: "JLkxz7Facvy",
    620: "Eenou2ghpq",
    660: "#$5689PSbd&034BRTZ",
    720: "+<=>K~×XYADV",
    780: "CHNUGOQ",
    920: "%w¼Mm⅞½",
    1020: "⅛¾@W⅝⅜",
}
_OTHER = 1000  # a sign that is not listed
_DIGIT = 660  # digits of a table are alike


def _widths(groups: dict[int, str]) -> dict[str, int]:
    widths = {sign: width for width, signs in groups.items() for sign in signs}
    return widths | dict.fromkeys("0123456789", _DIGIT)


_WIDTHS = {False: _widths(_REGULAR), True: _widths(_BOLD)}


def inter_width(text: str, size: float, *, bold: bool = False) -> float:
    """Return how wide a text is at a size, in the size's unit."""
    widths = _WIDTHS[bold]
    return size * sum(widths.get(sign, _OTHER) for sign in text) / 1000


def wrapped(text: str, size: float, most: float) -> list[str]:
    """Return a text in lines no wider than ``most``; a word wider than that is parted."""
    lines: list[str] = []
    for word in text.split():
        joined = f"{lines[-1]} {word}" if lines else word
        if lines and inter_width(joined, size) <= most:
            lines[-1] = joined
            continue
        while inter_width(word, size) > most and len(word) > 1:
            keep = max(1, int(len(word) * most / inter_width(word, size)))
            lines.append(word[:keep])
            word = word[keep:]
        lines.append(word)
    return lines
