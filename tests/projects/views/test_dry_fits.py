"""The dry fit of a build, its diagonals, and how sure its sizes are."""

import re
from fractions import Fraction
from html import unescape

import pytest
from django.urls import reverse
from django.utils import timezone

from projects import adapters
from projects.actions import diagonals
from projects.engine.fit.advice import Target
from tests.factories import OPENING, POPLAR, SHELF_CUT, log, log_stock

DIAGONALS = Target(kind="diagonal", key="opening")


@pytest.fixture
def url(build):
    """Where the dry fit of the build is."""
    return reverse("build-dry-fit", args=[build.pk])


@pytest.fixture
def send(as_student, url):
    """Log both diagonals: send("37 11/16", "37 5/8")."""

    def post(first, second, client=as_student, **more):
        data = {"distance": "opening", "first": first, "second": second, **more}
        return client.post(url, data)

    return post


@pytest.fixture
def dry(build, as_student, url):
    """Read the page with the opening measured at these ends: dry("34 1/2")."""
    log_stock(build)

    def get(*ends):
        log(build, OPENING, *ends, instrument="tape")
        return text(as_student.get(url))

    return get


def text(response):
    """Return what is seen of a page: no tags, and one space between words."""
    seen = re.sub(r'<span class="vh">.*?</span>|<[^>]*>', "", response.content.decode())
    return " ".join(unescape(seen).split())


class TestTheDryFit:
    def test_it_says_what_to_put_together_and_where_to_measure(self, dry):
        page = dry()

        assert "Left side, Right side, Seat, Lower shelf, Centre divider" in page
        assert "at the joints at both ends of Left side, not in the middle" in page
        assert "bottom end of Left side Log this end" in page
        assert "Not before the dry fit." in page
        assert "Nothing more to cut" in page

    def test_one_end_frees_nothing(self, dry):
        page = dry("34 17/32")

        assert "Measure the other end too: top end of Left side" in page
        assert "Not before the other end is measured." in page
        assert "Nothing more to cut" in page

    def test_both_ends_show_the_sum_and_free_the_parts(self, dry):
        """34 17/32 and two tenons of 1/2: 35 17/32."""
        page = dry("34 17/32", "34 17/32")

        assert "34 17/32 Opening between the sides, measured" in page
        assert "+ 1/2 Back rail in left side, depth" in page
        assert "= 35 17/32 in" in page
        assert "Measured at both ends: cut it to this." in page
        assert "Back rail, length" in page.partition("Cut now")[2]

    def test_ends_more_than_a_thirty_second_apart_ask_for_a_look(self, dry):
        page = dry("34 1/2", "34 9/16")

        assert "look for a bowed or slipped part, then measure both ends again" in page
        assert "Measured at both ends: cut it to this." not in page

    def test_each_part_is_told_the_end_that_it_sits_at(self, dry):
        """The rail sits above, 34 9/16 and two tenons of 1/2; the toe board below."""
        page = dry("34 1/2", "34 9/16")

        assert (
            "Back rail sits at the top end of Left side, which reads 34 9/16 in; "
            "by that end it is 35 9/16" in page
        )
        assert (
            "Toe board sits at the bottom end of Left side, which reads 34 1/2 in; "
            "by that end it is 34 1/2" in page
        )
        assert "Ask your instructor which of the two to cut." in page
        assert "The two ends differ: see above first." in page.partition("Cut now")[2]

    def test_nothing_added_is_said_as_that(self, dry):
        page = dry()

        assert "Just what you measure; expected: 34" in page
        assert "and 0" not in page

    def test_links_ask_for_one_end(self, build, as_student, url):
        page = as_student.get(url).content.decode()

        assert "?log=distance:opening&amp;point=2" in page

    def test_its_queries(self, build, as_student, url, django_assert_max_num_queries):
        log_stock(build)
        with django_assert_max_num_queries(5):
            as_student.get(url)

    def test_in_millimetres(self, dry, as_student, build, url):
        dry("34 1/2", "34 1/2")
        as_student.post(reverse("showing-choose"), {"showing": "mm", "next": url})

        assert "901.7" in text(as_student.get(url))


class TestDiagonals:
    def test_both_are_kept_and_it_says_which_way_to_pull(
        self, send, build, as_student, url
    ):
        answered = send("37 1/4", "37")
        page = text(as_student.get(url))

        assert answered.status_code == 302
        assert answered.headers["Location"] == f"{url}#square-opening"
        assert [(row.target, row.point) for row in build.readings.all()] == [
            ("diagonal:opening", 1),
            ("diagonal:opening", 2),
        ]
        assert (
            "Clamp across the longer one, from top left to bottom right, until both "
            "read 37 1/8 full" in page
        )
        # (37.25² - 37²) / (4 x 34.5)
        assert "One corner leans by 0.135 in" in page

    def test_the_other_way_round(self, send, as_student, url):
        send("37", "37 1/4")

        assert "from top right to bottom left" in text(as_student.get(url))

    def test_alike_is_square(self, send, as_student, url):
        send("37 1/16", "37 1/16")

        assert "Both diagonals read alike." in text(as_student.get(url))

    def test_they_disturb_no_size(self, send, build):
        before = adapters.solve_build(build, [])
        send("37 1/4", "37")
        after = adapters.solve_build(build, list(build.readings.all()))

        assert after.sizes == before.sizes
        assert after.readings == before.readings

    def test_they_stand_in_the_history_alone(self, send, build, as_student):
        send("37 1/4", "37")
        history = text(as_student.get(reverse("readings", args=[build.pk])))
        page = text(as_student.get(reverse("build-detail", args=[build.pk])))

        assert "Diagonals, Opening between the sides" in history
        assert "Diagonals" not in page

    def test_a_pair_far_apart_asks_for_a_second_look(self, send, build):
        asked = send("37 3/4", "36 1/2")

        assert asked.status_code == 422
        assert "Look again? The diagonals differ by 1.250 in" in text(asked)
        assert 'value="36 1/2"' in asked.content.decode()
        assert not build.readings.exists()

        assert send("37 3/4", "36 1/2", keep="1").status_code == 302
        assert all(row.kept_after_second_look for row in build.readings.all())

    def test_it_says_whose_corners(self, as_student, url):
        """The lower shelf's top at 3 3/4, the seat's bottom at 17 1/4: 13 1/2 by 34 1/2
        make 37.047."""
        page = text(as_student.get(url))

        assert (
            "the frame that Left side, Right side, Lower shelf and Seat make, from "
            "inside corner to inside corner. Square, each is about 37 1/16 scant"
            in page
        )

    def test_a_pair_of_another_frame_asks_for_a_second_look(self, send, build):
        asked = send("38 9/16", "38 9/16")

        assert asked.status_code == 422
        assert "Look again? Those of this frame come out near 37 1/16" in text(asked)
        assert not build.readings.exists()

        assert send("38 9/16", "38 9/16", keep="1").status_code == 302
        assert all(row.kept_after_second_look for row in build.readings.all())

    @pytest.mark.parametrize(
        ("first", "second", "field", "told"),
        [
            ("", "37", "first", "Type what you read"),
            ("37", "thirty", "second", "thirty"),
            ("0", "37", "first", "0"),
            ("30", "31", "second", "longer than the width"),
        ],
    )
    def test_what_cannot_be_is_told_at_its_field(
        self, first, second, field, told, send, build
    ):
        answered = send(first, second)
        page = answered.content.decode()
        error = page.partition(f'id="{field}-opening-error">')[2].partition("<")[0]

        assert answered.status_code == 422
        assert told in error
        assert f'value="{second}"' in page
        assert not build.readings.exists()

    @pytest.mark.parametrize("key", ["overall_width", "shelf", "", "\x00"])
    def test_only_a_dry_fit_distance_has_them(self, key, send, build):
        assert send("37", "37", distance=key).status_code == 422
        assert not build.readings.exists()

    def test_a_full_build_takes_no_more(self, send, build, monkeypatch):
        monkeypatch.setattr(diagonals, "MOST_READINGS", 1)

        assert send("37 1/4", "37").status_code == 422
        assert not build.readings.exists()

    def test_an_archived_class_takes_none(self, send, build):
        build.shop_class.archived_at = timezone.now()
        build.shop_class.save()

        assert send("37 1/4", "37").status_code == 403

    def test_a_classmate_learns_nothing(self, send, client_of, classmate):
        assert send("37", "37", client=client_of(classmate)).status_code == 404


class TestCertainty:
    @pytest.fixture
    def sure(self, build, as_student):
        def get():
            return text(as_student.get(reverse("build-certainty", args=[build.pk])))

        return get

    def test_what_is_not_measured_is_said(self, sure):
        page = sure()

        assert "Not measured: the thickness of Lower shelf is still the plan's." in page
        assert "Not measured yet: Left side, Right side" in page

    def test_a_tape_can_guarantee_no_fit(self, sure, build):
        log(build, POPLAR, "3/4", instrument="tape")
        page = sure()

        assert (
            "can't guarantee that it goes in: at worst it is 0.026 in thicker" in page
        )
        assert (
            "Measure again with a caliper: Lower shelf. From ±1/32 in to ±0.001 in."
            in page
        )

    def test_a_caliper_can(self, sure, build):
        log_stock(build)
        page = sure()

        assert "Certain to go in, as far as the readings go." in page
        assert "can't guarantee" not in page

    def test_a_caliper_is_not_asked_for_what_it_does_not_span(self, sure, build):
        log_stock(build)
        log(build, POPLAR, "0.742", "0.744")
        log(build, OPENING, "34 1/2", "34 1/2", instrument="tape")
        log(build, SHELF_CUT, "35 1/4", instrument="tape")
        page = sure()

        assert "caliper: Opening" not in page
        assert "caliper: Lower shelf, length" not in page

    def test_what_is_not_certain_comes_first(self, sure, build):
        log(build, POPLAR, "0.742")  # and not the plywood
        page = sure()

        assert page.index("Plywood back in left side") < page.index("Seat in left side")

    def test_it_is_reached_from_the_sizes(self, build, as_student):
        page = as_student.get(reverse("build-detail", args=[build.pk])).content.decode()

        assert reverse("build-certainty", args=[build.pk]) in page
        assert reverse("build-dry-fit", args=[build.pk]) in page

    def test_its_queries(self, sure, build, django_assert_max_num_queries):
        log_stock(build)
        with django_assert_max_num_queries(5):
            sure()


def test_an_inch_has_many_marks(build):
    """The mean of two ends is exact: 34 17/32 and 34 1/2."""
    rows = log(build, OPENING, "34 17/32", "34 1/2", instrument="tape")
    solution = adapters.solve_build(build, rows)

    assert solution.distances["opening"] == Fraction("34.515625") * Fraction("25.4")
