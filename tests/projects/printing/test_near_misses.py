"""The log of near misses on paper."""

from datetime import UTC, datetime

import pypdfium2
import pytest

from projects import actions
from projects.present.near_misses import near_miss_entries
from projects.printing.near_misses import near_miss_pdf

AT = datetime(2026, 10, 29, 18, 30, tzinfo=UTC)
PAPERS = {"letter": (612, 792), "a4": (595, 842)}


def log(shop_class, by, *, times=1):
    for n in range(times):
        entry = actions.log_near_miss(
            shop_class,
            by=by,
            kind="near_miss",
            happened_at=AT,
            machine=None,
            what=f"Entry {n} begins. "
            + "The piece was thrown back at the fence. " * 8
            + f"Entry {n} goes on.",
            done="Stopped the saw.",
        )
        actions.add_to_near_miss(
            entry, by=by, kind="injury", what=f"Entry {n} ends.", done=""
        )


def pages(shop_class, paper="letter"):
    rows = shop_class.near_misses.select_related("by", "machine").order_by("pk")
    made = near_miss_pdf(shop_class, near_miss_entries(rows), paper=paper, at=AT)
    document = pypdfium2.PdfDocument(made)
    sizes = [tuple(map(round, page.get_size())) for page in document]
    texts = [
        " ".join(page.get_textpage().get_text_range().split()) for page in document
    ]
    document.close()
    return sizes, texts


@pytest.mark.parametrize("paper", PAPERS)
def test_it_comes_on_that_paper(paper, shop_class, instructor):
    log(shop_class, instructor)
    sizes, texts = pages(shop_class, paper)

    assert sizes == [PAPERS[paper]]
    assert "Thursday evenings" in texts[0]
    assert "Private: for the instructors and the office." in texts[0]
    assert "now as: Injury" in texts[0]
    assert "Written by Ottoline Varga" in texts[0]
    assert "Page 1 of 1" in texts[0]


def test_an_entry_and_what_was_added_stay_on_one_page(shop_class, instructor):
    log(shop_class, instructor, times=12)
    _sizes, texts = pages(shop_class)

    assert len(texts) > 1
    for n in range(12):
        (page,) = [text for text in texts if f"Entry {n} begins." in text]
        assert f"Entry {n} goes on." in page
        assert f"Entry {n} ends." in page


def test_the_class_stands_on_every_page(shop_class, instructor):
    log(shop_class, instructor, times=12)
    _sizes, texts = pages(shop_class)

    assert all("Thursday evenings" in text for text in texts)
    assert all("private" in text for text in texts)


def test_an_empty_log_says_so(shop_class):
    assert "Nothing is logged." in pages(shop_class)[1][0]
