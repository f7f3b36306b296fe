"""A build's cut sheet, as a page and as a PDF."""

import re

import pytest
from django.urls import reverse

from projects.printing import pdf
from tests.factories import OPENING, MachineFactory, log, log_stock, sign_off


@pytest.fixture
def url(build):
    return reverse("cut-sheet", args=[build.pk])


@pytest.fixture
def pdf_url(build):
    return reverse("cut-sheet-pdf", args=[build.pk])


@pytest.fixture
def no_pango(monkeypatch):
    monkeypatch.setattr(pdf, "can_print", lambda: False)


class TestThePage:
    def test_it_shows_every_part_once(self, url, as_student, build):
        log_stock(build)
        page = as_student.get(url).content.decode()
        names = ["Left side", "Right side", "Seat", "Lower shelf", "Centre divider",
                 "Back rail", "Toe board", "Plywood back"]  # fmt: skip

        assert page.count('<section class="part keep">') == 8
        for name in names:
            assert len(re.findall(rf"<h2>(<span.*></span> )?{name} <", page)) == 1

    def test_it_offers_both_papers(self, url, as_student):
        page = as_student.get(url).content.decode()

        assert "cut-sheet.pdf?paper=letter" in page
        assert "cut-sheet.pdf?paper=a4" in page

    def test_it_takes_seven_queries(
        self, url, as_student, build, django_assert_num_queries
    ):
        sign_off(build.student, MachineFactory.create(shop=build.shop_class.shop))
        # session, user, build, readings; machines, sign-offs, steps done
        with django_assert_num_queries(7):
            as_student.get(url)

    def test_a_missing_sign_off_blocks_its_steps(self, url, as_student, build):
        saw = MachineFactory.create(shop=build.shop_class.shop)
        before = as_student.get(url).content.decode()
        sign_off(build.student, saw)
        after = as_student.get(url).content.decode()

        assert "<strong>Table saw: not signed off.</strong> Its steps only" in before
        assert "Sign-offs on record.</strong> Table saw: signed off." in after

    def test_it_shows_sizes_as_chosen(self, url, as_student):
        as_student.post(reverse("showing-choose"), {"showing": "mm"})

        assert "Millimetres" in as_student.get(url).content.decode()


class TestThePdf:
    def test_it_comes_as_a_file_to_look_at(self, pdf_url, as_student, build):
        answered = as_student.get(pdf_url, {"paper": "a4"})

        assert answered.headers["Content-Type"] == "application/pdf"
        assert answered.headers["Content-Disposition"] == (
            f'inline; filename="cut-sheet-{build.pk}-a4.pdf"'
        )
        assert answered.content.startswith(b"%PDF-")

    def test_a_paper_nobody_has_is_the_plans_own(self, pdf_url, as_student):
        answered = as_student.get(pdf_url, {"paper": "../../etc"})

        assert "-letter.pdf" in answered.headers["Content-Disposition"]

    def test_it_takes_seven_queries(
        self, pdf_url, as_student, build, django_assert_num_queries
    ):
        MachineFactory.create(shop=build.shop_class.shop)
        log_stock(build)
        log(build, OPENING, "34 1/2", instrument="tape")
        with django_assert_num_queries(7):
            as_student.get(pdf_url)


@pytest.mark.usefixtures("no_pango")
class TestWithoutPango:
    def test_the_pdf_leads_to_the_page(self, pdf_url, url, as_student):
        assert as_student.get(pdf_url).headers["Location"] == url

    def test_the_page_says_so_and_prints_itself(self, url, as_student):
        page = as_student.get(url).content.decode()

        assert "lacks pango" in page
        assert "cut-sheet.pdf" not in page
        assert '<section class="part keep">' in page
