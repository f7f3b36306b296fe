"""The app's pages and the cut sheet, with the demo's class in the database."""

import gzip
import re
import socket
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from html import escape
from html.parser import HTMLParser
from urllib.parse import urljoin

import pypdfium2
from django.core.wsgi import get_wsgi_application
from django.db import connection
from django.template.loader import render_to_string
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from waitress.server import create_server

from projects import adapters, demo
from projects.models import Build
from projects.printing.cut_sheet import cut_sheet_pdf, sheet_context
from projects.printing.layout import lay_out
from projects.showing import showing_named
from tests.bench.registry import bench, ratio

BACKEND = "django.contrib.auth.backends.ModelBackend"
COLUMNS = 5


@cache
def class_of_builds() -> list[Build]:
    """Load the demo; return its fourteen builds."""
    demo.load()
    return list(Build.objects.with_plan())


def browser_of(build: Build) -> Client:
    """Return a browser in which the build's student is signed in."""
    client = Client()
    client.force_login(build.student, backend=BACKEND)
    return client


def log_again(build: Build) -> tuple[int, int]:
    """Log one place anew from a phone; return its queries and bytes."""
    client = browser_of(build)
    data = {
        "target": "stock:poplar34",
        "point": 1,
        "length": "0.745",
        "keep": "1",
        "instrument": "caliper",
    }
    url = reverse("readings", args=[build.pk])
    with CaptureQueriesContext(connection) as queries:
        answered = client.post(url, data, headers={"HX-Request": "true"})
    if answered.status_code != 200:
        raise RuntimeError(f"the reading was answered with {answered.status_code}")
    return len(queries), len(answered.content)


@bench(
    "reading.queries",
    limit=6,
    db=True,
    how="queries from a reading sent to the new table, session and user included: "
    "the most that any of the demo's fourteen students takes",
)
def reading_queries() -> float:
    """Count the queries of logging a reading."""
    return max(log_again(build)[0] for build in class_of_builds())


@bench(
    "reading.bytes",
    limit=15_000,
    db=True,
    how="bytes of the fragment that answers a reading, before compression: the "
    "largest of the demo's fourteen students, 8 parts each",
)
def reading_bytes() -> float:
    """Measure the answer to a reading [B]."""
    return max(log_again(build)[1] for build in class_of_builds())


class Needed(HTMLParser):
    """Collect what a browser fetches for a page."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note what the tag refers to."""
        values = dict(attrs)
        if tag in ("link", "script", "img"):
            self.found.append(values.get("href") or values.get("src") or "")


@contextmanager
def served() -> Iterator[int]:
    """Serve the app on a free port, as `manage.py serve` does; give the port."""
    taken = socket.create_server(("127.0.0.1", 0))
    server = create_server(get_wsgi_application(), sockets=[taken])
    threading.Thread(target=server.run, daemon=True).start()
    try:
        yield taken.getsockname()[1]
    finally:
        server.close()


def fetch(port: int, path: str, cookie: str) -> tuple[int, bytes]:
    """Return how many bytes came over the wire, head included, and the body."""
    lines = (
        f"GET {path} HTTP/1.1",
        f"Host: 127.0.0.1:{port}",
        "Accept-Encoding: gzip",
        f"Cookie: {cookie}",
        "Connection: close",
    )
    with socket.create_connection(("127.0.0.1", port)) as wire:
        wire.sendall(("\r\n".join(lines) + "\r\n\r\n").encode())
        came = b"".join(iter(lambda: wire.recv(65536), b""))
    head, _, body = came.partition(b"\r\n\r\n")
    if not head.startswith(b"HTTP/1.1 200"):
        raise RuntimeError(f"{path}: {head[:200]!r}")
    return len(came), body


@bench(
    "page.student.bytes",
    limit=100_000,
    db=True,
    how="a student's page and every style sheet, script, font and icon it names, with "
    "gzip and an empty cache: bytes read from the socket of the real server, heads "
    "included",
)
def page_student_bytes() -> float:
    """Measure the first load of a student's page [B]."""
    build = next(b for b in class_of_builds() if b.student.username == "jonah")
    cookie = browser_of(build).cookies.output(header="", sep=";").strip()
    page = reverse("build-detail", args=[build.pk])
    with served() as port:
        return sum(first_load(port, page, cookie.split(";")[0]).values())


def first_load(port: int, page: str, cookie: str) -> dict[str, int]:
    """Return the bytes that each address of a page's first load takes."""
    sizes: dict[str, int] = {}
    waiting = [page]
    while waiting:
        path = waiting.pop()
        if path in sizes:
            continue
        if not path.startswith("/"):
            raise RuntimeError(f"{page} fetches {path} from elsewhere")
        sizes[path], body = fetch(port, path, cookie)
        if body[:2] == b"\x1f\x8b":
            body = gzip.decompress(body)
        if path == page:
            needed = Needed()
            needed.feed(body.decode())
            waiting += needed.found
        elif path.endswith(".css"):
            names = re.findall(r"url\([\"']?([^\"')]+)", body.decode())
            waiting += [urljoin(path, name) for name in names]
    return sizes


class Cells(HTMLParser):
    """Collect the texts of a sheet: each size, and each line without its sizes."""

    LINES = ("h1", "h2", "p", "dt", "dd", "text")

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []
        self.open: list[tuple[str, str]] = []
        self.line: list[str] = []
        self.size: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Begin a line or a size."""
        self.open.append((tag, dict(attrs).get("class") or ""))
        if tag in self.LINES:
            self.line = []

    def handle_data(self, data: str) -> None:
        """Add to the size that is open, or to the line; what is only heard is not."""
        classes = {name for _, name in self.open}
        if "vh" not in classes:
            (self.size if "size" in classes else self.line).append(data)

    def handle_endtag(self, tag: str) -> None:
        """End a line or a size."""
        opened = self.open.pop()
        while opened[0] != tag:  # a tag that has no end, such as <meta>
            opened = self.open.pop()
        if opened == ("span", "size"):
            self.add(self.size)
        elif tag in self.LINES:
            self.add(self.line)

    def add(self, text: list[str]) -> None:
        """Make a cell of a text, where it is not empty."""
        if words := " ".join("".join(text).split()):
            self.found.append(words)
        text.clear()


def bare_tables(cells: list[str], pages: int) -> str:
    """Return HTML with the cells in one table a page, long ones beside long ones."""
    tables = []
    for page in range(pages):
        dealt = sorted(cells[page::pages], key=len)
        rows = [dealt[n : n + COLUMNS] for n in range(0, len(dealt), COLUMNS)]
        inner = "".join(
            "<tr>" + "".join(f"<td>{escape(cell)}</td>" for cell in row) + "</tr>"
            for row in rows
        )
        tables.append(f"<table>{inner}</table>")
    style = (
        "td { font-size: 10pt } table { break-after: page } "
        "table:last-child { break-after: auto }"
    )
    return f"<!doctype html><style>{style}</style><body>{''.join(tables)}"


def page_count(pdf: bytes) -> int:
    """Return how many pages a PDF has."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        return len(document)
    finally:
        document.close()


@bench(
    "sheet.time",
    limit=1.5,
    db=True,
    how="a demo student's sheet from readings to PDF, drawings included, over "
    "WeasyPrint laying out bare tables with the same texts, each size and each line "
    "without its sizes a cell, on as many pages of the same paper in the same font",
)
def sheet_time() -> float:
    """Compare a cut sheet with bare tables [-]."""
    build = next(b for b in class_of_builds() if b.student.username == "jonah")
    rows = list(build.readings.all())
    plan = adapters.plan_of(build.revision)
    showing = showing_named("", plan)

    def sheet() -> bytes:
        solution = adapters.solve_build(build, rows)
        return cut_sheet_pdf(build, rows, solution, showing, paper="letter")

    context = sheet_context(build, rows, adapters.solve_build(build, rows), showing)
    cells = Cells()
    cells.feed(render_to_string("projects/print/cut_sheet.html", context))
    pages = page_count(sheet())
    bare = bare_tables(cells.found, pages)

    def tables() -> bytes:
        return lay_out(bare, style="cut_sheet.css", page_size="Letter")

    if page_count(tables()) != pages:
        raise RuntimeError(f"the bare tables don't fit on {pages} pages")
    return ratio(sheet, tables)
