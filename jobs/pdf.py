"""The one door to WeasyPrint: HTML in, a tagged PDF out (PDF/UA-1, ISO 14289-1:2014).

Documents reach our own stylesheets and fonts and `data:` URIs, nothing else: no network and no
other file, whatever a note or a name in the document may contain.
"""

import logging
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager, suppress
from contextvars import ContextVar
from pathlib import Path
from typing import Any, NoReturn, TypeAlias, TypeVar
from urllib.parse import unquote, urlsplit

import weasyprint
from django.conf import settings
from django.contrib.staticfiles import finders
from weasyprint.urls import FatalURLFetchingError, URLFetcher, URLFetcherResponse

# Folders of static files that a document may read.
ASSET_FOLDERS = ("css", "fonts")
_ANCHOR = "css/print.css"
_VARIANT = "pdf/ua-1"

T = TypeVar("T")
Wanted: TypeAlias = tuple[tuple[tuple[str, int | None], ...], str]
"""The layouts of a paper, and the element up to which its sheets are counted."""

MOST_TRIES = 4
_set_before: ContextVar[dict[Wanted, bytes] | None] = ContextVar("set_before", default=None)

# Their step-by-step reports would drown the site's log.
for _name in ("weasyprint.progress", "fontTools"):
    logging.getLogger(_name).setLevel(logging.WARNING)


class PdfError(Exception):
    """A document that can't become a PDF; the message says why."""


def render_pdf(*, html: str) -> bytes:
    """The document as PDF/UA-1; its `<html lang>` and `<title>` are required by that standard.

    Relative addresses start from our static files: `css/print.css`. Warnings of the renderer are
    logged, and raised where `settings.PDF_WARNINGS_ARE_ERRORS` is true.

    Raises:
        PdfError: where the document asks for anything outside our assets, or can't be laid out.
    """
    return render_fitting([(html, None)])


def render_fitting(layouts: Iterable[tuple[str, int | None]], *, last: str = "") -> bytes:
    """The first of several layouts of a document that fits, as `render_pdf`; else the last one.

    Each comes with how many sheets it may take up to the element whose id is `last`; None: any.
    """
    set_before = _set_before.get()
    if set_before is None:
        return _first_that_fits(layouts, last)
    wanted = (tuple(layouts), last)
    if wanted not in set_before:
        raise NotSetYetError(wanted)
    return set_before[wanted]


def _first_that_fits(layouts: Iterable[tuple[str, int | None]], last: str) -> bytes:
    pdf = b""
    for html, sheets in layouts:
        pdf, taken = _laid_out(html, last)
        if sheets is None or taken <= sheets:
            break
    return pdf


class NotSetYetError(Exception):
    """A paper that a transaction wants is not set in type yet; it is taken back until it is."""

    def __init__(self, wanted: Wanted) -> None:
        super().__init__("a paper is set in type before it is kept")
        self.wanted = wanted


def set_beforehand(write: Callable[[], T]) -> T:
    """Return what ``write`` returns, with no paper set in type inside its transaction.

    A paper takes a second, and on SQLite everybody else waits for a transaction. So ``write``, all
    of which stands or falls together, is taken back where it wants a paper, the paper is set, and
    it is begun anew with the paper at hand. Words that differ each time are set inside after all.
    """
    if _set_before.get() is not None:
        return write()
    papers: dict[Wanted, bytes] = {}
    kept = _set_before.set(papers)
    try:
        for _ in range(MOST_TRIES):
            try:
                return write()
            except NotSetYetError as missing:
                papers[missing.wanted] = _first_that_fits(*missing.wanted)
    finally:
        _set_before.reset(kept)
    return write()


def _laid_out(html: str, last: str) -> tuple[bytes, int]:
    """Return a document, and how many sheets it takes up to the element `last`."""
    root = asset_root()
    fetcher = _AssetFetcher(root)
    pdf, taken = b"", 0
    with _warnings() as warnings, suppress(FatalURLFetchingError):
        source = weasyprint.HTML(string=html, base_url=f"{root.as_uri()}/", url_fetcher=fetcher)
        document = source.render(pdf_variant=_VARIANT)
        upto = [count for count, page in enumerate(document.pages, 1) if last in page.anchors]
        taken = upto[0] if upto else len(document.pages)
        pdf = document.write_pdf(pdf_variant=_VARIANT)
    # Asked here and not by `except`: inside a drawing the renderer swallows the refusal.
    if fetcher.refused:
        raise PdfError(fetcher.refused[0])
    if warnings and getattr(settings, "PDF_WARNINGS_ARE_ERRORS", False):
        raise PdfError("The renderer warns: " + "; ".join(warnings))
    return pdf, taken


def asset_root() -> Path:
    """The folder that holds the stylesheets and fonts of documents.

    Raises:
        PdfError: where the static files are not there.
    """
    anchor = finders.find(_ANCHOR)
    if not anchor:
        raise PdfError(f"The print stylesheet {_ANCHOR} is not among the static files.")
    return Path(anchor).resolve().parent.parent


class _AssetFetcher(URLFetcher):  # type: ignore[misc]
    """Reads our own assets and `data:` URIs; asking for anything else ends the document."""

    def __init__(self, root: Path) -> None:
        super().__init__(allowed_protocols=("file", "data"), allow_redirects=False)
        self._folders = tuple(root / name for name in ASSET_FOLDERS)
        self.refused: list[str] = []

    def fetch(self, url: str, headers: dict[str, Any] | None = None) -> URLFetcherResponse:
        parts = urlsplit(url)
        if parts.scheme == "data":
            return super().fetch(url, headers)
        path = Path(unquote(parts.path)).resolve()
        is_local = parts.scheme == "file" and parts.netloc in ("", "localhost")
        if not is_local or not any(path.is_relative_to(folder) for folder in self._folders):
            self._refuse(
                f"The document asks for {url}; only stylesheets and fonts of Rowbook and data: "
                "addresses are allowed."
            )
        if not path.is_file():
            self._refuse(f"The document asks for {url}, which does not exist.")
        return super().fetch(path.as_uri(), headers)

    def _refuse(self, why: str) -> NoReturn:
        self.refused.append(why)
        raise FatalURLFetchingError(why)


@contextmanager
def _warnings() -> Iterator[list[str]]:
    """Gather what the renderer warns of; its own logger writes the lines out as well."""
    gathered: list[str] = []
    handler = _Gatherer(gathered)
    renderer = logging.getLogger("weasyprint")
    renderer.addHandler(handler)
    try:
        yield gathered
    finally:
        renderer.removeHandler(handler)


class _Gatherer(logging.Handler):
    def __init__(self, lines: list[str]) -> None:
        super().__init__(level=logging.WARNING)
        self._lines = lines

    def emit(self, record: logging.LogRecord) -> None:
        self._lines.append(record.getMessage())
