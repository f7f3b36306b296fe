"""Class packs: all cut sheets of a class in one PDF, made in the background.

A pack is known by all that went into it, so an unchanged class gets the same file at
once. Files are kept for this run of the server only, in a folder of its own beside the
database; one that a power cut left there goes with its class.
"""

from __future__ import annotations

import logging
import tempfile
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from threading import Lock, Thread

from django.conf import settings

from projects.printing.pdf import pdf_of_many

MOST_KEPT = 12
PREFIX = "packs-"
LOGGER = logging.getLogger(__name__)
Tell = Callable[[int], object]


@dataclass(kw_only=True)
class Pack:
    """One pack: how many of its sheets are done, and the file once all are.

    `left_out` names the students whose sheets can't be made.
    """

    total: int
    left_out: Sequence[str] = ()
    done: int = 0
    path: Path | None = None
    failed: bool = False

    @property
    def is_made(self) -> bool:
        """Tell whether the file is there."""
        return self.path is not None


@dataclass(kw_only=True)
class _Shelf:
    """The packs of this run, the newest last."""

    lock: Lock = field(default_factory=Lock)
    packs: dict[str, Pack] = field(default_factory=dict)


_SHELF = _Shelf()
_ONE_AT_A_TIME = Lock()


def find(digest: str) -> Pack | None:
    """Return the pack that was made, or is being made, of just this."""
    with _SHELF.lock:
        return _SHELF.packs.get(digest)


def forget_class(pk: int) -> None:
    """Drop all packs of a class, those being made too: their file is not kept."""
    with _SHELF.lock:
        gone = [digest for digest in _SHELF.packs if digest.startswith(f"{pk}-")]
        for digest in gone:
            _drop(digest)
    for left in settings.DATA_DIR.glob(f"{PREFIX}*/{pk}-*.pdf"):
        left.unlink(missing_ok=True)


def start(
    digest: str,
    htmls: Callable[[], Iterator[str]],
    *,
    total: int,
    paper: str,
    left_out: Sequence[str] = (),
) -> Pack:
    """Begin to make a pack in the background, unless it is there or under way.

    `htmls` gives the sheets one by one, without asking the database.
    """
    with _SHELF.lock:
        pack = _SHELF.packs.get(digest)
        if pack is not None and not pack.failed:
            return pack
        pack = _SHELF.packs[digest] = Pack(total=total, left_out=left_out)
        _forget_oldest()
    work = Thread(target=_make, args=(digest, pack, htmls, paper), daemon=True)
    work.start()
    return pack


def _make(
    digest: str, pack: Pack, htmls: Callable[[], Iterator[str]], paper: str
) -> None:
    def tell(done: int) -> None:
        pack.done = done

    try:
        with _ONE_AT_A_TIME:
            made = pdf_of_many(htmls(), style="cut_sheet.css", paper=paper, tell=tell)
        path = Path(_folder().name) / f"{digest}.pdf"
        path.write_bytes(made)
    except Exception:
        # nobody waits for this thread: the page says so, the log says why
        LOGGER.exception("a class pack could not be made")
        pack.failed = True
    else:
        with _SHELF.lock:
            if _SHELF.packs.get(digest) is pack:
                pack.path = path
            else:  # forgotten meanwhile
                path.unlink()


def _forget_oldest() -> None:
    """Drop the oldest packs that are made, so that no more than a dozen stay."""
    made = [digest for digest, pack in _SHELF.packs.items() if pack.path]
    for digest in made[: max(0, len(_SHELF.packs) - MOST_KEPT)]:
        _drop(digest)


def _drop(digest: str) -> None:
    path = _SHELF.packs.pop(digest).path
    if path is not None:
        path.unlink(missing_ok=True)


@cache
def _folder() -> tempfile.TemporaryDirectory[str]:
    """Return the folder of this run; it goes when the server stops."""
    return tempfile.TemporaryDirectory(prefix=PREFIX, dir=settings.DATA_DIR)
