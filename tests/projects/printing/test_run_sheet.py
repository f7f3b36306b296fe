"""The run sheet on paper."""

import logging

import pypdfium2
import pytest
from django.urls import reverse

from tests.full_class import full_class

PAPERS = {"letter": (215.9, 279.4), "a4": (210, 297)}


@pytest.mark.parametrize("paper", PAPERS)
def test_a_large_class(paper, db, client_of, caplog):
    made = full_class(30)
    saw = made.shop.machines.get(kind="table_saw")
    url = reverse("run-sheet-pdf", args=[made.pk, saw.pk])
    with caplog.at_level(logging.WARNING):
        answered = client_of(made.revision.plan.owner).get(url, {"paper": paper})
    document = pypdfium2.PdfDocument(answered.content)
    sizes = {tuple(round(s * 25.4 / 72, 1) for s in p.get_size()) for p in document}
    pages = [" ".join(p.get_textpage().get_text_range().split()) for p in document]
    document.close()
    whole = " ".join(pages)

    assert sizes == {PAPERS[paper]}
    for number, page in enumerate(pages, start=1):
        assert f"Page {number} of {len(pages)}" in page
        assert "Table saw" in page
    assert "The machine's manual, local codes" in pages[0]
    assert "slot width 0.005 in, wider, never narrower" in whole
    assert "Not on this sheet" in whole
    assert "safe" not in whole.lower()
    assert not caplog.records
