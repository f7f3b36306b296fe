"""The private log of near misses and injuries."""

from datetime import UTC, datetime, timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from projects import actions
from projects.models import NearMiss
from projects.printing import pdf
from projects.views import near_misses
from tests.factories import MachineFactory, ShopFactory


@pytest.fixture
def url(shop_class):
    return reverse("near-miss-list", args=[shop_class.pk])


@pytest.fixture
def pdf_url(shop_class):
    return reverse("near-miss-pdf", args=[shop_class.pk])


@pytest.fixture
def machine(shop_class):
    return MachineFactory.create(shop=shop_class.shop)


@pytest.fixture
def log(shop_class, instructor):
    """Log something that happened some days ago: log("It was thrown", days=2)."""

    def logged(what, *, days=1, machine=None):
        return actions.log_near_miss(
            shop_class,
            by=instructor,
            kind="near_miss",
            happened_at=timezone.now() - timedelta(days=days),
            machine=machine,
            what=what,
            done="",
        )

    return logged


GIVEN = {
    "kind": "near_miss",
    "happened_at": "2026-09-03T19:10",
    "what": "The offcut was thrown\nback.",
    "done": "Saw off, talked it over",
}


class TestThePage:
    def test_what_happened_last_stands_first(self, url, as_instructor, log):
        log("Second", days=2)
        log("Third", days=3)
        log("First", days=1)
        page = as_instructor.get(url).content.decode()
        places = [page.index(words) for words in ("First", "Second", "Third")]

        assert places == sorted(places)

    def test_it_says_who_wrote_it(self, url, as_instructor, log, machine):
        log("It was thrown", machine=machine)
        page = as_instructor.get(url).content.decode()

        assert "Written by Ottoline Varga" in page
        assert "Table saw" in page

    def test_other_classes_stay_out(self, url, as_instructor, log, other_class):
        NearMiss.objects.bulk_create(
            [
                NearMiss(
                    shop_class=other_class,
                    kind="injury",
                    what="Elsewhere",
                    happened_at=timezone.now(),
                    at=timezone.now(),
                    by=other_class.shop.owner,
                )
            ]
        )

        assert "Elsewhere" not in as_instructor.get(url).content.decode()

    def test_it_takes_five_queries(
        self, url, as_instructor, log, machine, django_assert_num_queries
    ):
        for n in range(6):
            log(f"Entry {n}", machine=machine)
        with django_assert_num_queries(5):  # session, user, class, machines, log
            as_instructor.get(url)


class TestLogging:
    def test_it_is_kept_as_typed(
        self, url, as_instructor, instructor, machine, settings
    ):
        settings.TIME_ZONE = "America/Chicago"
        answered = as_instructor.post(url, GIVEN | {"machine": machine.pk})
        row = NearMiss.objects.get()

        assert answered.headers["Location"] == url
        assert (row.kind, row.machine, row.by) == ("near_miss", machine, instructor)
        assert row.what.splitlines() == ["The offcut was thrown", "back."]
        assert row.happened_at == datetime(2026, 9, 4, 0, 10, tzinfo=UTC)

    def test_no_machine_and_nothing_done_are_fine(self, url, as_instructor):
        as_instructor.post(url, GIVEN | {"done": "", "machine": ""})

        assert NearMiss.objects.get().machine is None

    @pytest.mark.parametrize(
        ("field", "value"),
        [
            ("what", ""),
            ("what", "x" * 2001),
            ("kind", "luck"),
            ("happened_at", ""),
            ("happened_at", "2999-01-01T10:00"),
            ("machine", "0"),
        ],
    )
    def test_nonsense_is_refused_at_its_field(self, field, value, url, as_instructor):
        answered = as_instructor.post(url, GIVEN | {field: value})
        page = answered.content.decode()

        assert answered.status_code == 422
        assert f'id="id_{field}_error"' in page
        assert "Saw off, talked it over" in page
        assert not NearMiss.objects.exists()

    def test_only_machines_of_this_shop_can_be_chosen(
        self, url, as_instructor, machine
    ):
        other = MachineFactory.create(shop=ShopFactory.create(), name="Other saw")
        gone = MachineFactory.create(
            shop=machine.shop, name="Old saw", retired_at=timezone.now()
        )
        page = as_instructor.get(url).content.decode()

        assert "Other saw" not in page
        assert "Old saw" not in page
        for wrong in (other, gone):
            answered = as_instructor.post(url, GIVEN | {"machine": wrong.pk})
            assert answered.status_code == 422


class TestAdding:
    def test_an_entry_stays_and_gets_more(self, url, as_instructor, log):
        entry = log("It was thrown")
        given = {"follows": entry.pk, "kind": "injury", "what": "A bruise showed"}
        answered = as_instructor.post(url, given)
        added = NearMiss.objects.get(follows=entry)
        page = as_instructor.get(url).content.decode()

        assert answered.headers["Location"] == url
        assert added.happened_at == entry.happened_at
        assert page.index("It was thrown") < page.index("A bruise showed")
        assert "now as: Injury" in page

    def test_nothing_to_add_is_refused_below_its_entry(self, url, as_instructor, log):
        entry = log("It was thrown")
        given = {"follows": entry.pk, "kind": "injury", "what": "", "done": "Iced it"}
        answered = as_instructor.post(url, given)
        page = answered.content.decode()

        assert answered.status_code == 422
        assert f'id="id_{entry.pk}_what_error"' in page
        assert "Iced it" in page
        assert NearMiss.objects.count() == 1

    @pytest.mark.parametrize("number", ["", "x", "0"])
    def test_what_is_no_entry_is_not_found(self, number, url, as_instructor):
        given = {"follows": number, "kind": "injury", "what": "More"}

        assert as_instructor.post(url, given).status_code == 404

    def test_an_addition_is_not_added_to(self, url, as_instructor, instructor, log):
        added = actions.add_to_near_miss(
            log("It was thrown"), by=instructor, kind="injury", what="More", done=""
        )
        given = {"follows": added.pk, "kind": "injury", "what": "More"}

        assert as_instructor.post(url, given).status_code == 404


class TestThePdf:
    def test_it_comes_as_a_file_to_look_at(
        self, pdf_url, as_instructor, shop_class, log
    ):
        log("It was thrown")
        answered = as_instructor.get(pdf_url, {"paper": "a4"})

        assert answered.headers["Content-Type"] == "application/pdf"
        assert answered.headers["Content-Disposition"] == (
            f'inline; filename="near-misses-{shop_class.pk}-a4.pdf"'
        )
        assert answered.content.startswith(b"%PDF-")

    def test_a_paper_nobody_has_is_the_plans_own(self, pdf_url, as_instructor):
        answered = as_instructor.get(pdf_url, {"paper": "../x"})

        assert "-letter.pdf" in answered.headers["Content-Disposition"]

    def test_without_pango_it_leads_to_the_page_that_says_so(
        self, pdf_url, url, as_instructor, monkeypatch
    ):
        monkeypatch.setattr(pdf, "can_print", lambda: False)

        assert as_instructor.get(pdf_url).headers["Location"] == url
        assert "lacks pango" in as_instructor.get(url).content.decode()

    def test_while_other_sheets_are_made_it_says_so(
        self, pdf_url, as_instructor, monkeypatch
    ):
        def busy(*_args, **_more):
            raise pdf.BusyError

        monkeypatch.setattr(near_misses, "make_pdf", busy)

        assert as_instructor.get(pdf_url).status_code == 503
