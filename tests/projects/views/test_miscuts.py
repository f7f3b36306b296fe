"""A miscut's page: what follows, the ways out, proposing one and deciding on it.

Of the boot bench with its boards at 3/4 in: the shelf lies half of 3/4 in deep in each
side, so it is 36 - 3/4 - 3/4 + 3/8 + 3/8 = 35 1/4 in long.
"""

import re
from datetime import UTC, datetime
from fractions import Fraction

import pytest
from django.urls import reverse
from django.utils import timezone

from projects import adapters, ways_out
from projects.engine.fit.advice import Target
from projects.models import Build, Decision, Reading, StepMark, WayOut
from tests.factories import POPLAR, SHELF_CUT, help_in, log

IN = Fraction(254, 10)
SHELF_WIDE = Target(kind="cut", key="shelf", dimension="width")
SEAT_CUT = Target(kind="cut", key="seat", dimension="length")
DIVIDER_CUT = Target(kind="cut", key="divider", dimension="length")
RAIL_CUT = Target(kind="cut", key="back_rail", dimension="length")
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


def facts(build):
    """Return the sizes as cut that count in a build [mm]."""
    again = Build.objects.with_plan().get(pk=build.pk)
    solution = adapters.solve_build(again, list(again.readings.all()))
    return {
        f"cut:{fact}": reading.length.mm
        for fact, reading in solution.readings.facts.items()
        if fact.kind == "cut"
    }


def mark(build, step, *, done=True):
    StepMark.objects.create(
        build=build,
        step=step,
        title=step,
        done=done,
        at=timezone.now(),
        by=build.student,
    )


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
            # session, user, build, readings, ways, decisions, marks, may propose,
            # may decide
            with django_assert_num_queries(9):
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
        assert "Cut Lower shelf again:" in words(page)
        assert page.context["wanted"].spoken == "35 and 1 quarter inches"

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
    def test_to_be_cut_again_it_is_uncut(
        self, proposed, short, as_student, as_instructor, instructor, url, build
    ):
        log(build, SHELF_WIDE, "13", instrument="tape")
        decide(as_instructor, proposed, agreed="1")
        page = words(as_student.get(url))
        wide, aside = build.readings.order_by("target", "pk").filter(mm=None)[::-1]

        assert "No cut of it counts here now." in page
        assert "Log the new cut when it is done." in page
        assert {wide.target, aside.target} == {str(SHELF_CUT), str(SHELF_WIDE)}
        assert {wide.by, aside.by} == {instructor}
        assert not facts(build)
        assert Reading.objects.filter(pk=short.pk, mm=35 * IN).exists()

    def test_a_new_cut_counts_and_ends_it(
        self, proposed, as_student, as_instructor, url, build
    ):
        decide(as_instructor, proposed, agreed="1")
        log(build, SHELF_CUT, "35 1/4", instrument="tape")

        assert facts(build) == {"cut:shelf.length": 141 * IN / 4}
        assert "As logged it fits" in words(as_student.get(url))
        assert "Agreed: what to do now" not in words(as_student.get(url))
        assert decide(as_instructor, proposed, agreed="0", note="No").status_code == 422

    def test_a_second_thought_lets_it_count_again(
        self, proposed, as_instructor, url, build
    ):
        def decided(agreed):
            answered = decide(as_instructor, proposed, agreed=agreed, note="Look")
            assert answered.status_code == 302
            return facts(build)

        as_cut = {"cut:shelf.length": 35 * IN}
        assert [decided(agreed) for agreed in "1101001"] == [
            {}, {}, as_cut, {}, as_cut, as_cut, {},
        ]  # fmt: skip
        assert "Decide anew" in words(as_instructor.get(url))

    def test_the_history_says_why(self, proposed, as_student, as_instructor, build):
        history = reverse("readings", args=[build.pk])
        said = "set aside: cut again, agreed by Ottoline Varga on"
        decide(as_instructor, proposed, agreed="1")
        agreed = as_student.get(history)
        decide(as_instructor, proposed, agreed="0", note="Keep it")

        # the reading, and what set it aside
        assert words(agreed).count(said) == 2
        assert "counts again: not agreed any more, by Ottoline Varga on" in words(
            as_student.get(history)
        )

    def test_what_was_agreed_to_give_ends_with_it(
        self, short, url, as_student, as_instructor, build
    ):
        as_student.post(url, {"way": "let_give:overall_width"})
        decide(as_instructor, build.ways_out.get(), agreed="1")
        as_student.post(url, CUT_AGAIN)
        decide(as_instructor, build.ways_out.last(), agreed="1")
        build.refresh_from_db()

        assert (build.let_give, build.let_give_for) == ("", "")
        assert not facts(build)

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
        assert "Cut Lower shelf again:" in words(page)
        assert not facts(build)

    def test_used_as_it_is_it_is_the_other_part(
        self, build, url, as_student, as_instructor
    ):
        log(build, POPLAR, "0.75")
        log(build, RAIL_CUT, "34 3/4", instrument="tape")
        page = reverse("build-miscut", args=[build.pk, "back_rail", "length"])
        as_student.post(page, {"way": "use_as:toe_board"})
        way = build.ways_out.get()
        same = {**way.details, "trim_length": "1/100 in", "trim_width": "0 in"}
        WayOut.objects.create(
            build=build, reading=way.reading, kind="use_as", details=same,
            at=way.at, by=way.by,
        )  # fmt: skip
        served = build.ways_out.last()
        decide(as_instructor, served, agreed="1")
        agreed, history = as_student.get(page), reverse("readings", args=[build.pk])

        assert facts(build) == {"cut:toe_board.length": 139 * IN / 4}
        assert "The piece is Toe board now: its cut is logged." in words(agreed)
        assert "set aside: used as Toe board, agreed by" in words(
            as_student.get(history)
        )
        assert "the piece cut as Back rail, agreed by" in words(as_student.get(history))
        decide(as_instructor, served, agreed="0", note="It has a knot")
        assert facts(build) == {"cut:back_rail.length": 139 * IN / 4}

    def test_a_part_cut_since_is_not_logged_anew(
        self, short, url, as_student, as_instructor, build
    ):
        as_student.post(url, {"way": "use_as:divider"})
        way = build.ways_out.get()
        same = {**way.details, "trim_length": "0 in", "trim_width": "0 in"}
        WayOut.objects.create(
            build=build,
            reading=short,
            kind="use_as",
            details=same,
            at=way.at,
            by=way.by,
        )
        log(build, DIVIDER_CUT, "10", instrument="tape")
        decide(as_instructor, build.ways_out.last(), agreed="1")

        assert facts(build) == {"cut:divider.length": 10 * IN}


class TestPartsMarkedAsCut:
    """Their step is done, though nobody logged how they came out."""

    @pytest.fixture
    def marked(self, build, short):
        for step in ("rip", "crosscut", "cut_sheet_parts"):
            mark(build, step)

    def test_they_are_not_cut_anew(self, marked, url, as_student):
        answered = as_student.get(url)
        follows = answered.context["page"].follows

        assert {line.name for line in follows.changes} == {"Back rail", "Toe board"}
        assert {line.name for line in follows.stuck} == {"Seat", "Plywood back"}
        assert "Seat, length: cut already, its step is marked done." in words(answered)

    def test_nor_offered_as_another_use(self, marked, url, as_student):
        answered = as_student.get(url)
        ways = [way.value for way in answered.context["page"].ways]

        assert "use_as:divider" not in ways
        assert "use_as:toe_board" in ways
        assert "so not offered as another use: Left side," in words(answered)
        assert as_student.post(url, {"way": "use_as:divider"}).status_code == 422

    def test_moved_back_they_are(self, marked, url, as_student, build):
        mark(build, "crosscut", done=False)
        ways = [way.value for way in as_student.get(url).context["page"].ways]

        assert "use_as:divider" in ways

    def test_a_part_that_is_to_be_cut_again_is_uncut(
        self, marked, url, as_student, as_instructor, build
    ):
        log(build, SEAT_CUT, "34", instrument="tape")
        seat = reverse("build-miscut", args=[build.pk, "seat", "length"])
        as_student.post(seat, CUT_AGAIN | {"keep": "1"})
        decide(as_instructor, build.ways_out.get(), agreed="1")
        follows = as_student.get(url).context["page"].follows

        assert "Seat" in {line.name for line in follows.changes}
        assert {line.name for line in follows.stuck} == {"Plywood back"}


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
