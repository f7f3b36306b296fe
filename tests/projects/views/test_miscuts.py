"""A miscut's page: what follows, the ways out, proposing one and deciding on it.

Of the boot bench with its boards at 3/4 in: the shelf lies half of 3/4 in deep in each
side, so it is 36 - 3/4 - 3/4 + 3/8 + 3/8 = 35 1/4 in long.
"""

import re
from datetime import UTC, datetime
from fractions import Fraction

import pytest
from django.urls import reverse

from projects import ways_out
from projects.models import Decision, Reading, WayOut
from tests.factories import POPLAR, SHELF_CUT, help_in, log

IN = Fraction(254, 10)
CUT_AGAIN = {"way": "cut_again", "left_length": "40", "left_width": "16"}


def words(response):
    plain = re.sub(r"<[^>]+>", " ", response.content.decode())
    return re.sub(r"\s+", " ", plain)


@pytest.fixture
def url(build):
    """The page about the shelf's length."""
    return reverse("build-miscut", args=[build.pk, "shelf", "length"])


@pytest.fixture
def short(build):
    """A shelf cut 1/4 in short; returns its reading."""
    log(build, POPLAR, "0.75", "0.75", "0.75")
    log(build, SHELF_CUT, "35", instrument="tape")
    return build.readings.get(target=str(SHELF_CUT))


@pytest.fixture
def proposed(short, url, as_student, build):
    """Cutting it again, proposed by the student."""
    as_student.post(url, CUT_AGAIN | {"note": "Slipped at the fence"})
    return build.ways_out.get()


def decide(client, way, **data):
    return client.post(reverse("way-decide", args=[way.build_id, way.pk]), data)


class TestThePage:
    def test_it_says_what_was_wanted_and_what_changes(self, short, url, as_student):
        answered = as_student.get(url)
        page = answered.context["page"]

        assert (page.wanted.spoken, page.cut.spoken) == (
            "35 and 1 quarter inches",
            "35 inches",
        )
        assert "Too small by" in words(answered)
        assert "Overall width gives:" in words(answered)

    def test_the_ways_stand_side_by_side(self, short, url, as_student):
        page = as_student.get(url).context["page"]

        assert [way.value for way in page.ways][:2] == [
            "cut_again",
            "let_give:overall_width",
        ]
        assert page.ways[0].length.spoken == "36 and 1 quarter inches"
        assert "use_as:divider" in [way.value for way in page.ways]

    def test_where_it_fits_nothing_is_asked(self, build, url, as_student):
        log(build, POPLAR, "0.75")
        log(build, SHELF_CUT, "35 1/4", instrument="tape")
        answered = as_student.get(url)

        assert "As logged it fits" in words(answered)
        assert "Propose it" not in words(answered)

    def test_too_large_may_still_be_trimmed(self, build, url, as_student):
        log(build, SHELF_CUT, "36", instrument="tape")

        assert "can still be trimmed" in words(as_student.get(url))

    @pytest.mark.parametrize("place", [("bookcase", "length"), ("shelf", "thickness")])
    def test_what_the_plan_lacks_is_not_found(self, build, as_student, place):
        url = reverse("build-miscut", args=[build.pk, *place])

        assert as_student.get(url).status_code == 404

    def test_an_assistant_sees_it_and_proposes_only_with_the_right(
        self, short, url, shop_class, assistant, client_of
    ):
        logs = client_of(help_in(shop_class, "may_log"))

        assert "Propose it" not in words(client_of(assistant).get(url))
        assert client_of(assistant).post(url, CUT_AGAIN).status_code == 403
        assert "Propose it" in words(logs.get(url))
        assert logs.post(url, CUT_AGAIN).status_code == 302

    def test_a_classmate_finds_nothing(self, short, url, classmate, client_of):
        assert client_of(classmate).get(url).status_code == 404
        assert client_of(classmate).post(url, CUT_AGAIN).status_code == 404

    def test_its_queries_stay_the_same(
        self, short, url, as_student, proposed, django_assert_num_queries
    ):
        for _ in range(3):
            # session, user, build, readings, ways, decisions, may propose, may decide
            with django_assert_num_queries(8):
                as_student.get(url)
            as_student.post(url, CUT_AGAIN)


class TestTheStockLeft:
    def test_it_is_told_before_it_is_sent(self, short, url, as_student):
        large = as_student.post(url, CUT_AGAIN | {"check": "1"})
        small = as_student.post(url, CUT_AGAIN | {"check": "1", "left_length": "36"})

        assert "It fits." in words(large)
        assert "it doesn't fit" in words(small).replace("&#x27;", "'")
        assert not WayOut.objects.exists()

    def test_as_a_fragment_it_is_the_stock_alone(self, short, url, as_student):
        answered = as_student.post(
            url,
            {"check": "1", "left_length": "1 m", "left_width": "400 mm"},
            headers={"HX-Request": "true"},
        )

        assert answered.status_code == 200
        assert answered.content.decode().lstrip().startswith('<div class="miscut-stock')
        assert 'value="400 mm"' in answered.content.decode()

    def test_what_is_unreadable_is_said_at_the_field(self, short, url, as_student):
        answered = as_student.post(url, CUT_AGAIN | {"left_length": "about 40"})

        assert answered.status_code == 422
        assert answered.context["form"].errors.keys() == {"left_length"}
        assert 'value="about 40"' in answered.content.decode()

    def test_one_size_is_not_enough(self, short, url, as_student):
        answered = as_student.post(url, CUT_AGAIN | {"left_width": ""})

        assert "Type its width too." in words(answered)

    @pytest.mark.parametrize("left", [("", ""), ("36", "16")])
    def test_too_small_is_proposed_only_all_the_same(
        self, short, url, as_student, left
    ):
        asked = CUT_AGAIN | dict(zip(("left_length", "left_width"), left, strict=True))
        first = as_student.post(url, asked)

        assert first.status_code == 422
        assert "Propose it all the same" in words(first)
        assert not WayOut.objects.exists()
        assert as_student.post(url, asked | {"keep": "1"}).status_code == 302


class TestProposing:
    def test_it_is_kept_exactly(self, proposed, short, student):
        assert proposed.details == {
            "wanted": "35.25 in",
            "cut": "35 in",
            "stock": "poplar34",
            "blank_length": "36.25 in",
            "blank_width": proposed.details["blank_width"],
            "left_length": "40 in",
            "left_width": "16 in",
        }
        assert (proposed.kind, proposed.reading) == ("cut_again", short)
        assert (proposed.by, proposed.note) == (student, "Slipped at the fence")
        assert ways_out.mm_of(proposed.details, "wanted") == 141 * IN / 4

    def test_a_size_that_no_decimal_ends_stays_exact(self, build, url, as_student):
        log(build, POPLAR, "0.742", "0.744", "0.741")
        log(build, SHELF_CUT, "35 1/7", instrument="tape")
        as_student.post(url, {"way": "let_give:overall_width"})
        kept = build.ways_out.get().details

        assert kept["cut"] == "246/7 in"
        assert ways_out.mm_of(kept, "cut") == 246 * IN / 7

    def test_letting_give_and_using_elsewhere(self, short, url, as_student, build):
        as_student.post(url, {"way": "let_give:overall_width"})
        as_student.post(url, {"way": "use_as:divider"})
        give, use = build.ways_out.all()

        assert give.details["name"] == "Overall width"
        assert (give.details["before"], give.details["after"]) == ("36 in", "35.75 in")
        assert use.details["part"] == "divider"

    @pytest.mark.parametrize("way", ["", "let_give:toe_space", "use_as:back", "keep"])
    def test_what_is_no_way_is_refused(self, short, url, as_student, way):
        answered = as_student.post(url, {"way": way, "note": "Typed with care"})

        assert answered.status_code == 422
        assert "Typed with care" in answered.content.decode()
        assert not WayOut.objects.exists()

    def test_nothing_is_proposed_where_nothing_is_wrong(self, build, url, as_student):
        assert as_student.post(url, CUT_AGAIN).status_code == 422

    def test_an_archived_class_takes_none(self, short, url, as_student, shop_class):
        shop_class.archived_at = datetime(2026, 11, 1, tzinfo=UTC)
        shop_class.save()

        assert as_student.post(url, CUT_AGAIN).status_code == 403
        assert "Propose it" not in words(as_student.get(url))


class TestDeciding:
    def test_the_instructor_agrees(self, proposed, as_instructor, instructor, url):
        answered = decide(as_instructor, proposed, agreed="1")
        page = as_instructor.get(url)

        assert answered["Location"] == url
        assert proposed.decisions.get().by == instructor
        assert "Agreed: what to do now" in words(page)
        assert "Set the reading aside" in words(page)

    def test_not_agreeing_takes_a_note(self, proposed, as_instructor):
        silent = decide(as_instructor, proposed, agreed="0")
        said = decide(as_instructor, proposed, agreed="0", note="There is a spare")

        assert silent.status_code == 422
        assert "Say why not" in words(silent)
        assert said.status_code == 302
        assert proposed.decisions.get().note == "There is a spare"

    def test_decided_anew_both_are_kept_and_the_newest_counts(
        self, proposed, as_instructor, url
    ):
        decide(as_instructor, proposed, agreed="1", note="Fine")
        decide(as_instructor, proposed, agreed="0", note="Wait, ask me first")
        [told] = as_instructor.get(url).context["told"]

        assert told.state == "not_agreed"
        assert [row.agreed for row in told.decisions] == [False, True]
        assert "Agreed: what to do now" not in words(as_instructor.get(url))

    def test_only_who_teaches_decides(
        self, proposed, as_student, shop_class, classmate, other_instructor, client_of
    ):
        helper = help_in(shop_class, "may_log", "may_sign", "may_roster")
        asked = {
            "student": as_student,
            "helper": client_of(helper),
            "classmate": client_of(classmate),
            "other": client_of(other_instructor),
        }
        got = {who: decide(c, proposed, agreed="1").status_code for who, c in
               asked.items()}  # fmt: skip

        assert got == {"student": 403, "helper": 403, "classmate": 404, "other": 404}
        assert not Decision.objects.exists()

    def test_an_archived_class_takes_none(self, proposed, as_instructor, shop_class):
        shop_class.archived_at = datetime(2026, 11, 1, tzinfo=UTC)
        shop_class.save()

        assert decide(as_instructor, proposed, agreed="1").status_code == 403

    def test_one_that_a_newer_follows_is_not_decided_any_more(
        self, proposed, as_student, as_instructor, url, build
    ):
        as_student.post(url, {"way": "use_as:divider"})
        answered = decide(as_instructor, proposed, agreed="1")

        assert answered.status_code == 422
        assert [line.state for line in as_student.get(url).context["told"]] == [
            "waits",
            "followed",
        ]
        assert [way.kind for way in ways_out.waiting()] == ["use_as"]

    def test_nor_one_whose_part_was_measured_again(
        self, proposed, as_instructor, build
    ):
        log(build, SHELF_CUT, "35 1/4", instrument="tape")

        assert decide(as_instructor, proposed, agreed="1").status_code == 422
        assert not ways_out.waiting().exists()


class TestWhatAgreedMeans:
    def test_the_reading_is_set_aside_by_the_verb_there_is(
        self, proposed, as_student, as_instructor, url, build
    ):
        decide(as_instructor, proposed, agreed="1")
        rows = Reading.objects.count()
        form = {"target": str(SHELF_CUT), "point": "1"}
        as_student.post(reverse("reading-set-aside", args=[build.pk]), form)
        page = words(as_student.get(url))

        assert Reading.objects.count() == rows + 1
        assert "No cut of it counts here now." in page
        assert "Log the new cut when it is done." in page

    def test_a_distance_that_gives_already_asks_for_nothing(
        self, short, url, as_student, as_instructor, build
    ):
        as_student.post(url, {"way": "let_give:overall_width"})
        decide(as_instructor, build.ways_out.get(), agreed="1")

        assert "Overall width gives, and all sizes" in words(as_student.get(url))

    def test_used_elsewhere_the_other_cut_is_logged(
        self, short, url, as_student, as_instructor, build
    ):
        as_student.post(url, {"way": "use_as:divider"})
        decide(as_instructor, build.ways_out.get(), agreed="1")
        page = as_student.get(url)

        assert "Log the cut of Centre divider" in words(page)
        assert "?log=cut:divider.length" in page.content.decode()


class TestWhereItIsOffered:
    def test_on_the_builds_page(self, short, as_student, build, url):
        page = as_student.get(reverse("build-detail", args=[build.pk]))

        assert "Not as the sum says:" in words(page)
        assert url in page.content.decode()

    def test_the_history_keeps_both(self, proposed, as_instructor, build):
        decide(as_instructor, proposed, agreed="1", note="Take the spare")
        page = words(as_instructor.get(reverse("readings", args=[build.pk])))

        assert "Slipped at the fence" in page
        assert "Take the spare" in page

    def test_the_class_calls_the_instructor_while_it_waits(
        self, proposed, as_instructor, shop_class, url
    ):
        overview = reverse("class-detail", args=[shop_class.pk])
        before = as_instructor.get(overview)
        decide(as_instructor, proposed, agreed="1")

        assert "asks about a miscut" in words(before)
        assert url in before.content.decode()
        assert "asks about a miscut" not in words(as_instructor.get(overview))
