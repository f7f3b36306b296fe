"""The roster with its codes on paper."""

import logging

import pypdfium2
import pytest
from django.utils import timezone

from projects.members import members_of
from projects.models import ShopClass
from projects.printing.roster import roster_pdf
from tests.factories import UserFactory, enrol

PAPERS = {"letter": (215.9, 279.4), "a4": (210, 297)}


def printed(shop_class, instructor, paper):
    seen = ShopClass.objects.with_rights_of(instructor).get(pk=shop_class.pk)
    students = members_of(seen, instructor)
    data = roster_pdf(seen, students, paper=paper, at=timezone.now())
    document = pypdfium2.PdfDocument(data)
    sizes = {tuple(round(s * 25.4 / 72, 1) for s in p.get_size()) for p in document}
    pages = [" ".join(p.get_textpage().get_text_range().split()) for p in document]
    document.close()
    return sizes, pages


@pytest.mark.parametrize("paper", PAPERS)
def test_a_large_class(paper, shop_class, instructor, caplog):
    for n in range(40):
        enrol(shop_class, name=f"Student {n:02}", username=f"km7p{n:04}".translate(
            str.maketrans("01", "ab")))  # fmt: skip
    with caplog.at_level(logging.WARNING):
        sizes, pages = printed(shop_class, instructor, paper)

    assert sizes == {PAPERS[paper]}
    assert 2 <= len(pages) <= 3
    for number, page in enumerate(pages, start=1):
        assert f"Page {number} of {len(pages)}" in page
        assert "Thursday evenings" in page
        assert "Student Code Joined Notes" in page
    for n in range(40):
        assert sum(f"Student {n:02}" in page for page in pages) == 1
    assert not caplog.records


def test_each_row_says_code_and_whether_joined(shop_class, instructor, student):
    person = enrol(shop_class, name="Ann", username="km7px3qe").student
    person.set_unusable_password()
    person.save()
    _sizes, (page,) = printed(shop_class, instructor, "letter")

    assert "Ann km7p-x3qe not yet" in page
    assert f"{student.name} – yes" in page
    assert UserFactory.build().username not in page


def test_it_says_to_be_locked_away(shop_class, instructor):
    _sizes, (page,) = printed(shop_class, instructor, "letter")

    assert "Private: keep this locked." in page
    assert "Nobody is in this class yet." in page
