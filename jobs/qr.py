"""The one door to the QR library: an address as a drawing that a phone's camera reads."""

from __future__ import annotations

import segno


def qr_drawing(address: str, *, title: str) -> str:
    """Return the code of an address as inline SVG, a quiet zone of four modules around it.

    Error correction M: fifteen of a hundred modules may be dirty. ISO/IEC 18004.
    """
    code = segno.make_qr(address, error="m")
    drawing: str = code.svg_inline(
        border=4, omitsize=True, title=title, svgclass="qr", lineclass=None
    )
    return drawing.replace("<svg ", '<svg role="img" ', 1)
