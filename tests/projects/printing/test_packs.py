"""Class packs: made in the background, once for what goes into them."""

import threading
import time

import pypdfium2
import pytest

from projects.printing import packs, pdf

SHEET = "<!doctype html><title>Sheet</title><body><h1>{}</h1><p>poplar"


def wait_for(pack):
    until = time.monotonic() + 60
    while not (pack.is_made or pack.failed):
        assert time.monotonic() < until
        time.sleep(0.02)
    return pack


def texts(path):
    document = pypdfium2.PdfDocument(path)
    try:
        return [page.get_textpage().get_text_range() for page in document]
    finally:
        document.close()


@pytest.fixture(autouse=True)
def _empty_shelf(monkeypatch):
    monkeypatch.setattr(packs, "_SHELF", packs._Shelf())


def start(name="1-a", count=3, **more):
    sheets = [SHEET.format(f"Student {n}") for n in range(count)]
    return packs.start(name, lambda: iter(sheets), total=count, paper="a4", **more)


def test_each_sheet_begins_a_page_with_page_numbers_of_its_own():
    pages = texts(wait_for(start()).path)

    assert len(pages) == 3
    for n, text in enumerate(pages):
        assert f"Student {n}" in text
        assert "Page 1 of 1" in text


def test_an_unchanged_pack_is_the_same_file():
    first = wait_for(start())

    assert start() is first
    assert packs.find("1-a") is first


def test_progress_is_how_many_sheets_are_done():
    gate, seen = threading.Semaphore(0), []

    def sheets():
        for n in range(3):
            gate.acquire()
            seen.append(pack.done)
            yield SHEET.format(n)

    pack = packs.start("1-b", sheets, total=3, paper="letter")
    for _ in range(3):
        gate.release()
    wait_for(pack)

    assert seen == [0, 1, 2]
    assert pack.done == 3


def test_what_goes_wrong_is_told_and_can_be_tried_again(caplog):
    def broken():
        yield SHEET.format(1)
        raise ValueError("no such sheet")

    failed = wait_for(packs.start("1-c", broken, total=2, paper="a4"))
    again = wait_for(start("1-c"))

    assert failed.failed
    assert failed.path is None
    assert "no such sheet" in caplog.text
    assert again.is_made


def test_old_packs_are_forgotten(monkeypatch):
    monkeypatch.setattr(packs, "MOST_KEPT", 2)
    first = wait_for(start("1-1", 1))
    kept = [wait_for(start(f"1-{n}", 1)) for n in (2, 3)]

    assert packs.find("1-1") is None
    assert not first.path.exists()
    assert all(pack.path.exists() for pack in kept)


def test_a_single_sheet_gets_in_between():
    """The lock is free while the next sheet of a pack is being written."""
    single = []

    def sheets():
        yield SHEET.format(1)
        single.append(pdf.pdf(SHEET.format("alone"), style="cut_sheet.css", paper="a4"))
        yield SHEET.format(2)

    pack = wait_for(packs.start("1-d", sheets, total=2, paper="a4"))

    assert pack.is_made
    assert single[0].startswith(b"%PDF-")


def test_the_packs_of_a_class_can_be_forgotten():
    pack = wait_for(start("7-a", 1))
    other = wait_for(start("77-a", 1))
    packs.forget_class(7)

    assert packs.find("7-a") is None
    assert not pack.path.exists()
    assert other.path.exists()


def test_what_a_run_left_behind_goes_with_its_class(settings, tmp_path):
    settings.DATA_DIR = tmp_path
    (tmp_path / "packs-cut-off").mkdir()
    left, other = (tmp_path / "packs-cut-off" / f"{pk}-a.pdf" for pk in (7, 77))
    for path in (left, other):
        path.write_bytes(b"%PDF-")
    packs.forget_class(7)

    assert not left.exists()
    assert other.exists()
