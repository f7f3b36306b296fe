"""A build's page, its sizes and their sums."""

import pytest
from django.urls import reverse

from projects.engine.fit.advice import Target
from projects.showing import CHOICES
from tests.factories import OPENING, PLYWOOD, POPLAR, SHELF_CUT, log, log_stock

HTMX = {"HX-Request": "true"}


@pytest.fixture
def get(build, as_student):
    """Open a page of the build: get("size-sum", "shelf", "length")."""

    def page(name="build-detail", *more, query="", headers=None):
        url = reverse(name, args=[build.pk, *more])
        return as_student.get(url + query, headers=headers or {})

    return page


def text(response):
    return response.content.decode()


class TestThePage:
    def test_it_asks_for_the_next_reading(self, get):
        page = text(get())

        assert "Measure 3/4 in yellow-poplar" in page
        assert "place 1 of 3" in page
        assert "Expected:" in page

    def test_it_asks_for_what_was_chosen(self, get):
        page = text(get(query="?log=cut:shelf.length"))

        assert "Measure the length as cut: Lower shelf" in page
        assert "Back to what's next" in page

    @pytest.mark.parametrize(
        "query",
        ["?log=stock:oak", "?log=", "?log=%00", "?point=x", "?log=part:seat&point=x"],
    )
    def test_nonsense_asks_for_the_next_reading(self, query, get):
        answered = get(query=query)

        assert answered.status_code == 200
        assert "Measure 3/4 in yellow-poplar" in text(answered)

    def test_then_for_the_dry_fit(self, get, build):
        log_stock(build)
        page = text(get())

        assert "Dry-assemble and measure: Opening between the sides" in page
        assert "Not before the dry fit:" in page

    def test_one_end_leaves_the_sizes_waiting(self, get, build):
        log_stock(build)
        log(build, OPENING, "34 17/32", instrument="tape")
        page = text(get())

        assert page.count("waits for the other end of the dry fit") == 2
        assert "Not before the dry fit:" in page
        assert "measure the other end too" in page

    def test_then_it_says_what_to_cut(self, get, build):
        log_stock(build)
        log(build, OPENING, "34 1/2", "34 1/2", instrument="tape")
        page = text(get())

        assert "Cut now, to the dry fit" in page
        assert "Not before the dry fit:" not in page
        assert "differ" not in page

    def test_ends_far_apart_are_told_before_anything_is_cut(self, get, build):
        log_stock(build)
        log(build, OPENING, "34 1/2", "34 9/16", instrument="tape")
        page = text(get())

        assert "The two ends of “Opening between the sides” differ:" in page
        assert reverse("build-dry-fit", args=[build.pk]) in page

    def test_a_fact_in_doubt_is_told_with_what_it_disagrees_with(self, get, build):
        log_stock(build)
        log(build, SHELF_CUT, "35 1/8", instrument="tape")
        log(build, OPENING, "34 1/2", "34 1/2", instrument="tape")
        page = text(get())

        assert "<strong>In doubt: Lower shelf" in page
        assert "It disagrees with:" in page
        assert "log=cut%3Ashelf.length" in page

    def test_what_gives_is_told(self, get, build):
        log_stock(build)
        log(build, OPENING, "35", "35", instrument="tape")
        page = text(get())

        assert "Overall width gives." in page

    def test_the_instructor_sees_whose_it_is(self, as_instructor, build):
        page = text(as_instructor.get(reverse("build-detail", args=[build.pk])))

        assert "<h1>Perpetua Lindqvale</h1>" in page
        assert "My build" not in page

    @pytest.mark.parametrize("stocked", [False, True])
    def test_its_queries_are_four(self, stocked, get, build, django_assert_num_queries):
        if stocked:
            log_stock(build)
        with django_assert_num_queries(4):  # session, user, build, readings
            get()


class TestASize:
    def test_its_sum_comes_into_its_row(self, get, build):
        log_stock(build)
        answered = get("size-sum", "seat", "length", headers=HTMX)
        row = text(answered)

        assert row.startswith('<tbody id="part-seat">')
        assert "HX-Request" in answered.headers["Vary"]
        assert 'aria-expanded="true"' in row
        for said in (
            "Overall width",
            "Left side thickness",
            "mean of 0.742 in, 0.744 in, 0.741 in",
        ):
            assert said in row
        # (110.25 - 4.454) / 3 = 35.265333…
        assert "35.2653 in, 895.74 mm" in row
        assert "exactly" in row

    def test_without_javascript_it_comes_on_the_page(self, get):
        page = text(get("size-sum", "seat", "length"))

        assert page.startswith("<!doctype html>")
        assert page.count('<ol class="sum">') == 1

    def test_it_closes_again(self, get):
        row = text(get("part-sizes", "seat", headers=HTMX))

        assert 'aria-expanded="false"' in row
        assert '<ol class="sum">' not in row

    def test_closing_without_javascript_goes_to_the_page(self, get, build):
        answered = get("part-sizes", "seat")

        assert answered.headers["Location"] == reverse("build-detail", args=[build.pk])

    def test_it_says_how_sure_it_is(self, get, build):
        for stock, typed in ((POPLAR, "3/4"), (PLYWOOD, "1/4")):
            log(build, stock, typed, instrument="tape")
        one = text(get("size-sum", "seat", "length", headers=HTMX))
        two = text(get("size-sum", "shelf", "width", headers=HTMX))

        # half a mark of the tape, twice: both sides are one reading, off together
        assert "within ± 0.062 in" in one
        # the rail's and the plywood's are two: sqrt(2) / 32 and 2 / 32
        assert "likely within ± 0.044 in, at worst ± 0.062 in" in two

    def test_one_that_hangs_on_stock_nobody_measured_says_so(self, get, build):
        log(build, POPLAR, "0.742")
        page = " ".join(text(get("build-detail")).split())
        width = text(get("size-sum", "shelf", "width", headers=HTMX))
        length = text(get("size-sum", "shelf", "length", headers=HTMX))

        assert page.count("hangs on 1/4 in plywood, not measured yet") == 2
        assert "1/4 in plywood is taken from the plan" in width
        assert "within ±" not in width
        assert "taken from the plan" not in length
        assert "within ±" in length

    def test_one_that_waits_says_so(self, get):
        row = text(get("size-sum", "back_rail", "length", headers=HTMX))

        assert "it waits for “Opening between the sides”" in row

    def test_a_cut_one_is_its_reading(self, get, build):
        log_stock(build)
        log(build, SHELF_CUT, "35 1/4", instrument="tape")
        row = text(get("size-sum", "shelf", "length", headers=HTMX))

        assert "Log it again" in row
        assert "35.2500 in" in row

    def test_a_thickness_leads_to_the_parts_own(self, get, build):
        log(build, POPLAR, "0.742")
        row = text(get("size-sum", "shelf", "thickness", headers=HTMX))

        assert "log=part%3Ashelf" in row
        assert "one reading" in row

    def test_own_readings_speak_for_the_part(self, get, build):
        log_stock(build)
        log(build, Target(kind="part", key="shelf"), "0.722")
        row = text(get("size-sum", "shelf", "thickness", headers=HTMX))

        assert "0.7220 in" in row


class TestHowSizesAreShown:
    @pytest.mark.parametrize(
        ("choice", "shown"),
        [
            ("tape-8", "35 and 1 quarter inches"),
            ("tape-64", "35 and 1 quarter inches"),
            ("in", "35.250 inches"),
            ("mm", "895.4 millimetres"),
        ],
    )
    def test_it_stays_as_chosen(self, choice, shown, get, as_student, build):
        back = reverse("build-detail", args=[build.pk])
        data = {"showing": choice, "next": back}
        answered = as_student.post(reverse("showing-choose"), data)

        assert answered.headers["Location"] == back
        page = text(get())
        assert shown in page
        assert f'value="{choice}" selected' in page

    @pytest.mark.parametrize("choice", ["", "ell", "tape-10", "tape-"])
    def test_what_is_no_choice_changes_nothing(self, choice, get, as_student):
        before = text(get()).count("35 and 1 quarter inches")
        as_student.post(reverse("showing-choose"), {"showing": choice})

        assert text(get()).count("35 and 1 quarter inches") == before > 0

    @pytest.mark.parametrize(
        "elsewhere",
        [
            "https://elsewhere.invalid/",
            "//elsewhere.invalid/",
            "/\\elsewhere.invalid",
            "javascript:alert(1)",
            "\thttps://elsewhere.invalid",
            "class-list",
            "",
        ],
    )
    def test_it_never_leads_to_another_site(self, elsewhere, as_student):
        data = {"showing": "mm", "next": elsewhere}
        answered = as_student.post(reverse("showing-choose"), data)

        assert answered.status_code == 302
        assert answered.headers["Location"].startswith("/")
        assert "elsewhere" not in answered.headers["Location"]

    def test_each_choice_has_words(self):
        assert len(CHOICES) == 6
        assert str(CHOICES["tape-16"]) == "Tape, to 1/16 in"
