"""Choosing cards to print, and the PDFs."""

import pytest
from django.test import Client
from django.urls import reverse

from projects import actions
from projects.printing import pdf
from projects.printing.pdf import BusyError
from tests.factories import enrol, help_in

CODE = "km7px3qe"


@pytest.fixture
def url(shop_class):
    return reverse("class-cards", args=[shop_class.pk])


@pytest.fixture
def pdf_url(shop_class):
    return reverse("class-cards-pdf", args=[shop_class.pk])


@pytest.fixture
def ann(shop_class):
    """A student who has not joined yet."""
    student = enrol(shop_class, name="Ann Other", username=CODE).student
    student.set_unusable_password()
    student.save()
    return student


@pytest.fixture
def zoe(shop_class):
    """A student who has."""
    return enrol(shop_class, name="Zoë Brandt", username="abcdefgh").student


@pytest.fixture(autouse=True)
def _network(monkeypatch):
    found = ["127.0.1.1", "192.168.1.7", "10.0.0.5"]
    monkeypatch.setattr("projects.addresses.own_addresses", lambda: found)


@pytest.fixture
def no_pango(monkeypatch):
    monkeypatch.setattr(pdf, "can_print", lambda: False)


def text(response):
    return response.content.decode()


class TestThePage:
    def test_at_the_server_itself_it_proposes_the_networks_address(
        self, url, as_instructor, ann
    ):
        page = text(as_instructor.get(url, headers={"Host": "127.0.0.1:8000"}))

        assert 'value="192.168.1.7:8000"' in page
        assert "10.0.0.5:8000" in page
        assert "--bind 0.0.0.0:8000" in page

    def test_without_a_network_its_own_stays(
        self, url, as_instructor, ann, monkeypatch
    ):
        monkeypatch.setattr("projects.addresses.own_addresses", list)
        page = text(as_instructor.get(url, headers={"Host": "localhost:8000"}))

        assert 'value="localhost:8000"' in page
        assert "Phones can't reach this address." in page

    def test_elsewhere_the_address_that_was_typed(
        self, url, as_instructor, ann, settings
    ):
        settings.ALLOWED_HOSTS = ["shop.example"]
        page = text(as_instructor.get(url, headers={"Host": "shop.example"}))

        assert 'value="shop.example"' in page
        assert "does not answer" not in page

    def test_an_address_the_server_is_deaf_to_is_told(self, url, as_instructor, ann):
        page = text(as_instructor.get(url, {"at": "shop.example"}))

        assert "The server does not answer to this address yet." in page

    @pytest.mark.parametrize("at", ["", "javascript:alert(1)", "a b", "ftp://x"])
    def test_nonsense_is_told_and_kept(self, at, url, as_instructor, ann):
        answered = as_instructor.get(url, {"at": at})

        assert answered.status_code == 422
        assert f'value="{at}"' in text(answered)
        assert 'id="at-error"' in text(answered)

    def test_cards_for_who_has_not_joined(self, url, as_instructor, ann, zoe):
        page = text(as_instructor.get(url))

        assert "1 card" in page
        assert "Zoë Brandt" not in page

    def test_or_for_everybody_with_one(self, url, as_instructor, ann, zoe, student):
        page = text(as_instructor.get(url, {"who": "all"}))

        assert "2 cards" in page
        assert student.name in page.partition("1 student without a card")[2]

    def test_one_is_shown_to_be_held_out(self, url, as_instructor, ann, zoe):
        page = text(as_instructor.get(url, {"student": zoe.pk, "at": "10.0.0.5"}))

        assert "abcd-efgh" in page
        assert "10.0.0.5/join" in page
        assert "<svg" in page
        assert "Ann Other" not in page

    def test_many_are_not_where_a_pdf_can_be_made(self, url, as_instructor, ann):
        assert "<svg" not in text(as_instructor.get(url))

    def test_nobody_to_print_for_is_told(self, url, as_instructor, zoe):
        assert "Nobody needs a card now" in text(as_instructor.get(url))
        assert "cards.pdf" not in text(as_instructor.get(url))

    @pytest.mark.parametrize("wanted", ["x", "-1", "9" * 30])
    def test_a_student_of_another_class_is_none(
        self, wanted, url, as_instructor, ann, stranger
    ):
        stranger.username = "cdefghjk"
        stranger.save()
        for number in (wanted, stranger.pk):
            page = text(as_instructor.get(url, {"student": number}))

            assert "cdef-ghjk" not in page

    def test_an_assistants_card_is_for_who_teaches(
        self, url, shop_class, as_instructor, client_of
    ):
        helper = help_in(shop_class, "may_roster", username="cdefghjk")
        other = client_of(help_in(shop_class, "may_roster"))

        assert "cdef-ghjk" in text(as_instructor.get(url, {"student": helper.pk}))
        assert "cdef-ghjk" not in text(other.get(url, {"student": helper.pk}))

    def test_queries(self, url, as_instructor, ann, zoe, django_assert_num_queries):
        with django_assert_num_queries(4):  # session, user, class, members
            as_instructor.get(url)


class TestThePdf:
    def test_it_comes_as_a_file_to_look_at(
        self, pdf_url, shop_class, as_instructor, ann
    ):
        answered = as_instructor.get(pdf_url, {"paper": "a4"})

        assert answered.content.startswith(b"%PDF-")
        assert answered.headers["Content-Disposition"] == (
            f'inline; filename="join-cards-{shop_class.pk}-a4.pdf"'
        )
        assert "no-store" in answered.headers["Cache-Control"]

    def test_a_paper_nobody_has_is_the_plans_own(self, pdf_url, as_instructor, ann):
        answered = as_instructor.get(pdf_url, {"paper": "../x"})

        assert "-letter.pdf" in answered.headers["Content-Disposition"]

    @pytest.mark.parametrize("at", ["", "javascript:alert(1)"])
    def test_nonsense_leads_back_to_the_page(
        self, at, pdf_url, url, as_instructor, ann
    ):
        answered = as_instructor.get(pdf_url, {"at": at})

        assert answered.headers["Location"].startswith(f"{url}?at=")
        assert as_instructor.get(answered.headers["Location"]).status_code == 422

    def test_nobody_to_print_for_leads_back_too(self, pdf_url, as_instructor, zoe):
        assert as_instructor.get(pdf_url).status_code == 302

    def test_printing_changes_no_card(self, pdf_url, as_instructor, ann):
        before = ann.username, ann.password
        as_instructor.get(pdf_url)
        ann.refresh_from_db()

        assert (ann.username, ann.password) == before

    def test_a_busy_printer_is_told(self, pdf_url, as_instructor, ann, monkeypatch):
        def busy(*_args, **_more):
            raise BusyError

        monkeypatch.setattr("projects.views.join_cards.join_cards_pdf", busy)

        assert as_instructor.get(pdf_url).status_code == 503


class TestRosterPdf:
    @pytest.fixture
    def roster_url(self, shop_class):
        return reverse("class-roster-pdf", args=[shop_class.pk])

    def test_it_comes_as_a_file_to_look_at(self, roster_url, as_instructor, ann):
        answered = as_instructor.get(roster_url)

        assert answered.content.startswith(b"%PDF-")
        assert "-letter.pdf" in answered.headers["Content-Disposition"]

    def test_an_empty_class_prints_too(self, roster_url, as_instructor):
        assert as_instructor.get(roster_url).status_code == 200

    def test_a_busy_printer_is_told(self, roster_url, as_instructor, monkeypatch):
        def busy(*_args, **_more):
            raise BusyError

        monkeypatch.setattr("projects.views.join_cards.roster_pdf", busy)

        assert as_instructor.get(roster_url).status_code == 503


@pytest.mark.usefixtures("no_pango")
class TestWithoutPango:
    def test_the_page_holds_the_cards_for_the_browser(self, url, as_instructor, ann):
        page = text(as_instructor.get(url))

        assert "lacks pango" in page
        assert "km7p-x3qe" in page
        assert "cards.pdf" not in page

    def test_the_pdfs_lead_to_pages(self, shop_class, pdf_url, url, as_instructor, ann):
        roster = reverse("class-roster", args=[shop_class.pk])
        there = reverse("class-roster-pdf", args=[shop_class.pk])

        assert as_instructor.get(pdf_url).headers["Location"].startswith(url)
        assert as_instructor.get(there).headers["Location"] == roster


def test_a_card_lets_its_student_in(url, as_instructor, ann):
    page = text(as_instructor.get(url, {"student": ann.pk}))
    assert "km7p-x3qe" in page
    phone = Client()
    typed = phone.post(reverse("join"), {"code": "km7p-x3qe"})

    assert phone.get(typed.headers["Location"]).status_code == 200
    actions.choose_pin(ann, "2580")
    assert (
        phone.post(typed.headers["Location"], {"password": "2580"}).status_code == 302
    )
