"""Logging readings, setting one aside, and their history."""

import re
from fractions import Fraction

import pytest
from django.urls import reverse

from projects import adapters
from projects.engine.fit.advice import Target
from projects.models import Reading
from tests.factories import OPENING, POPLAR, SHELF_CUT, log, log_stock

HTMX = {"HX-Request": "true"}
IN = Fraction(254, 10)


@pytest.fixture
def send(build, as_student):
    """Log a reading as the student's phone does: send(length="0.742")."""

    def post(client=as_student, headers=HTMX, **fields):
        data = {"target": str(POPLAR), "point": 1, "instrument": "caliper"}
        url = reverse("readings", args=[build.pk])
        return client.post(url, {**data, **fields}, headers=headers)

    return post


@pytest.fixture
def aside(build, as_student):
    """Set a point aside."""

    def post(target, point=1):
        url = reverse("reading-set-aside", args=[build.pk])
        return as_student.post(url, {"target": str(target), "point": point})

    return post


def text(response):
    return response.content.decode()


def sizes_of(build):
    rows = list(build.readings.all())
    solution = adapters.solve_build(build, rows)
    return {key: mm / IN for key, mm in solution.sizes.items()}


class TestLogging:
    def test_a_reading_is_kept_with_all_that_was_said(self, send, build, student):
        answered = send(length=" 0.742 ")
        (row,) = build.readings.all()

        assert answered.status_code == 200
        assert (row.target, row.point, row.typed) == ("stock:poplar34", 1, "0.742")
        assert (row.mm, row.unit, row.instrument) == (
            Fraction("18.8468"),
            "in",
            "caliper",
        )
        assert row.by == student
        assert not row.kept_after_second_look

    def test_htmx_gets_the_live_part_with_the_new_sizes(self, send):
        answered = send(length="0.742")
        page = text(answered)

        assert page.startswith('<div class="columns" id="live">')
        assert "HX-Request" in answered.headers["Vary"]
        # 36 - 2 x 0.742 + 2 x 3/8 = 35.266: 35 1/4 full
        assert '<span class="vh">35 and 1 quarter inches full</span>' in page
        assert "place 2 of 3" in page

    def test_without_javascript_it_goes_back_to_the_page(self, send, build):
        answered = send(length="0.742", headers={})

        assert answered.status_code == 302
        assert answered.headers["Location"] == reverse("build-detail", args=[build.pk])
        assert build.readings.count() == 1

    def test_three_points_make_their_mean(self, send, build):
        for point, length in enumerate(("0.742", "0.744", "0.741"), start=1):
            send(point=point, length=length)

        assert sizes_of(build)["seat", "thickness"] == Fraction("2.227") / 3

    def test_millimetres_are_kept_as_millimetres(self, send, build):
        send(length="19 mm")
        row = build.readings.get()

        assert (row.mm, row.unit) == (19, "mm")

    def test_the_instructor_may_log_for_a_student(
        self, send, as_instructor, build, instructor
    ):
        send(as_instructor, length="0.742")
        history = as_instructor.get(reverse("readings", args=[build.pk]))

        assert build.readings.get().by == instructor
        assert "Ottoline Varga, Caliper" in text(history)

    def test_a_cut_has_one_value_whatever_point_is_sent(self, send, build):
        send(target=str(SHELF_CUT), point=1, length="35 7/32", instrument="tape")
        send(target=str(SHELF_CUT), point=2, length="35 1/4", instrument="tape")

        assert sizes_of(build)["shelf", "length"] == Fraction("35.25")

    def test_a_dry_fit_distance_is_the_mean_of_its_two_ends(self, send, build):
        log_stock(build)
        one = send(target=str(OPENING), point=1, length="34 17/32", instrument="tape")
        both = send(target=str(OPENING), point=2, length="34 1/2", instrument="tape")

        assert "Distance, top end of Left side" in text(one)
        assert "measure the other end too" in text(one)
        assert "Cut now, to the dry fit" in text(both)
        solution = adapters.solve_build(build, list(build.readings.all()))
        assert solution.distances["opening"] == Fraction("34.515625") * IN

    def test_ends_that_differ_by_more_than_a_mark_are_looked_at(self, send, build):
        send(target=str(OPENING), point=1, length="34 1/2", instrument="tape")
        answered = send(
            target=str(OPENING), point=2, length="34 9/16", instrument="tape"
        )

        assert answered.status_code == 422
        assert "The two ends differ by" in text(answered)
        assert "look for a bowed or slipped part" in text(answered)
        assert build.readings.count() == 1

    def test_a_missing_point_is_the_first(self, send, build):
        send(point="", length="0.742")

        assert build.readings.get().point == 1


class TestWhatCannotBeRead:
    @pytest.mark.parametrize(
        ("typed", "told"),
        [
            ("three quarters", "three quarters"),
            ("0", "0"),
            ("-1/2", "-1/2"),
            ("1/0", "1/0"),
            ("99 ft", "99 ft"),
            ("NaN", "NaN"),
            ("", "Type what you read"),
            ("9" * 41, "at most 40 characters"),
            ("0.7\x0042", "Null characters"),
        ],
    )
    def test_it_is_told_at_the_field(self, typed, told, send, build):
        answered = send(length=typed)
        page = text(answered)
        error = page.partition('id="length-error" class="hint-error">')[2]

        assert answered.status_code == 422
        assert told in error.partition("</p>")[0]
        assert 'aria-describedby="length-read length-error" aria-invalid="true"' in page
        assert not build.readings.exists()

    def test_what_was_typed_stays_in_the_field(self, send):
        page = text(send(length='3/4" or so <b>', instrument="tape", point=2))

        assert 'value="3/4&quot; or so &lt;b&gt;"' in page
        assert 'name="point" value="2"' in page
        assert 'value="tape" checked' in page

    def test_the_whole_page_comes_where_there_is_no_javascript(self, send):
        answered = send(length="wide", headers={})

        assert answered.status_code == 422
        assert text(answered).startswith("<!doctype html>")
        assert 'value="wide"' in text(answered)

    @pytest.mark.parametrize(
        "fields",
        [
            {"target": "stock:walnut"},
            {"target": "cut:shelf.thickness"},
            {"target": "distance:opening.length"},
            {"target": "joint:seat_left"},
            {"target": ""},
            {"point": 0},
            {"point": 10**6},
            {"point": "9" * 5000},
            {"point": "one"},
            {"instrument": "eye"},
            {"instrument": ""},
        ],
    )
    def test_what_the_form_never_sends_is_refused(self, fields, send, build):
        answered = send(length="0.742", **fields)

        assert answered.status_code == 422
        assert "hint-error" in text(answered)
        assert not build.readings.exists()

    def test_what_the_piece_cannot_be_built_with_is_told_in_the_engines_words(
        self, send, build
    ):
        # kept after the second look, but the seat would come out below nothing
        answered = send(length="20", keep="1")
        page = text(answered)

        assert answered.status_code == 422
        assert "part seat: its length comes out at -3.25 in" in page
        assert "but must be above 0" in page
        assert 'value="20"' in page
        assert not build.readings.exists()


class TestSecondLook:
    # the plan says 3/4 in: 15 % off is 0.1125 in
    @pytest.mark.parametrize("typed", ["0.8625", "0.6375"])
    def test_fifteen_percent_is_near_enough(self, typed, send):
        assert send(length=typed).status_code == 200

    @pytest.mark.parametrize("typed", ["0.8626", "0.6374"])
    def test_more_asks(self, typed, send, build):
        answered = send(length=typed)
        page = text(answered)

        assert answered.status_code == 422
        assert "Look again?" in page
        assert "Expected was" in page
        assert f"Keep {typed} all the same" in page
        assert '<span class="vh">3 quarters of an inch</span>' in page
        assert f'value="{typed}"' in page
        assert not build.readings.exists()

    @pytest.mark.parametrize("typed", ["0.77325", "0.71075"])
    def test_a_thirty_second_apart_is_near_enough(self, typed, send, build):
        log(build, POPLAR, "0.742")

        assert send(point=2, length=typed).status_code == 200

    @pytest.mark.parametrize("typed", ["0.7733", "0.7107"])
    def test_further_apart_asks(self, typed, send, build):
        log(build, POPLAR, "0.742")
        answered = send(point=2, length=typed)

        assert answered.status_code == 422
        assert "Another place of the same board is" in text(answered)
        assert "0.742 inches" in text(answered)
        assert build.readings.count() == 1

    def test_it_can_be_kept_all_the_same(self, send, build, as_student):
        send(length="0.9")
        kept = send(length="0.9", keep="1")
        history = as_student.get(reverse("readings", args=[build.pk]))

        assert kept.status_code == 200
        assert build.readings.get().kept_after_second_look
        assert "kept after a second look" in text(history)

    def test_a_plausible_reading_is_not_called_kept(self, send, build):
        send(length="0.742", keep="1")

        assert not build.readings.get().kept_after_second_look

    def test_the_point_read_again_is_no_reason(self, send, build):
        log(build, POPLAR, "0.60")

        assert send(point=1, length="0.742").status_code == 200

    def test_the_instrument_chosen_stays_chosen(self, send):
        page = text(send(length="0.9", instrument="tape"))

        assert 'value="tape" checked' in page
        assert 'value="caliper" checked' not in page

    def test_a_cut_part_is_held_against_its_size(self, send, build):
        log_stock(build)
        # 36 - 2.227 / 3 = 35.2577 in as solved, held to 1/8 in either way
        fields = {"target": str(SHELF_CUT), "instrument": "tape"}

        assert send(length="35.383", **fields).status_code == 422
        assert send(length="35.132", **fields).status_code == 422
        assert send(length="35.382", **fields).status_code == 200
        assert send(length="35.133", **fields).status_code == 200

    def test_enter_keeps_the_new_number_under_a_second_look(self, send):
        page = text(send(length="0.9"))
        form = page.partition("<form")[2].partition("</form>")[0]
        # Enter in the field presses the first button that submits
        buttons = re.findall("<button[^>]*>", form)
        submit = [one for one in buttons if 'type="button"' not in one]

        assert "name=" not in submit[0]
        assert 'name="keep"' in submit[1]


class TestSettingAside:
    def test_a_point_no_longer_counts_and_stays_in_the_history(
        self, aside, build, as_student
    ):
        log(build, POPLAR, "0.742", "0.780")
        answered = aside(POPLAR, 2)
        history = text(as_student.get(answered.headers["Location"]))

        assert sizes_of(build)["seat", "thickness"] == Fraction("0.742")
        assert build.readings.count() == 3
        assert "set aside" in history
        assert "0.780 in" in history

    def test_a_point_set_aside_can_be_read_again(self, aside, send, build):
        log(build, POPLAR, "0.742")
        aside(POPLAR)
        send(length="0.744")

        assert sizes_of(build)["seat", "thickness"] == Fraction("0.744")

    def test_the_place_set_aside_is_the_next_to_be_read(
        self, aside, build, send, as_student
    ):
        log(build, POPLAR, "0.780", "0.742", "0.743")
        aside(POPLAR, 1)
        page = text(as_student.get(reverse("build-detail", args=[build.pk])))
        assert "place 1 of 3" in page

        send(length="0.744", point="1")
        page = text(as_student.get(reverse("build-detail", args=[build.pk])))

        assert sizes_of(build)["seat", "thickness"] == Fraction("0.743")
        assert "Measure 1/4 in plywood" in page

    def test_nothing_is_set_aside_where_nothing_stands(self, aside, build):
        aside(POPLAR, 2)

        assert not build.readings.exists()

    def test_twice_is_once(self, aside, build):
        log(build, POPLAR, "0.742")
        aside(POPLAR)
        aside(POPLAR)

        assert build.readings.count() == 2

    def test_a_wrong_target_is_told(self, aside, build):
        answered = aside("stock:walnut")

        assert answered.status_code == 422
        assert "This plan has nothing of that name." in text(answered)

    def test_what_the_piece_needs_stays(self, aside, send, build):
        # all parts have readings of their own, so the stock's matters to none of them
        parts = adapters.plan_of(build.revision).parts
        for part in parts[:-1]:
            log(build, Target(kind="part", key=part.key), "0.75")
        log(build, POPLAR, "20")
        answered = aside("part:seat")

        assert answered.status_code == 422
        assert "must be above 0" in text(answered)
        assert build.readings.count() == len(parts)


class TestHistory:
    @pytest.fixture
    def page(self, build, as_student, aside):
        log(build, POPLAR, "0.757", "3/4")
        log(build, POPLAR, "0.742")
        log(build, OPENING, "34 17/32", instrument="tape")
        log(build, SHELF_CUT, "35 1/4", instrument="tape")
        aside(POPLAR, 2)
        return text(as_student.get(reverse("readings", args=[build.pk])))

    def rows(self, page):
        return page.partition("<tbody>")[2].split("<tr>")[1:]

    def test_newest_comes_first(self, page):
        starts = [row.partition('<th scope="row">')[2].partition("<")[0]
                  for row in self.rows(page)]  # fmt: skip

        assert starts == [
            "3/4 in yellow-poplar, place 2",
            "Lower shelf, length as cut",
            "Opening between the sides, dry fit, end 1",
            "3/4 in yellow-poplar, place 1",
            "3/4 in yellow-poplar, place 2",
            "3/4 in yellow-poplar, place 1",
        ]

    def test_each_row_says_what_became_of_it(self, page):
        states = ["counts" if "counts" in row
                  else "followed" if "followed by a newer one" in row
                  else "set aside" if "set aside" in row else ""
                  for row in self.rows(page)]  # fmt: skip

        assert states == ["set aside", "counts", "counts", "counts", "followed",
                          "followed"]  # fmt: skip

    def test_it_says_who_with_what_and_what_was_typed(self, page):
        rows = self.rows(page)

        assert "Perpetua Lindqvale, Tape" in rows[1]
        assert "typed 35 1/4" in rows[1]
        assert "0.742 in" in rows[3]
        assert "Perpetua Lindqvale, Caliper" in rows[3]

    def test_an_empty_one_says_so(self, build, as_student):
        page = text(as_student.get(reverse("readings", args=[build.pk])))

        assert "Nothing was measured yet." in page


class TestOneBuildTwoPhones:
    def test_both_readings_stand(self, send, build, client_of, student):
        one, other = client_of(student), client_of(student)
        send(one, point=1, length="0.742")
        page = text(send(other, point=2, length="0.744"))

        assert "So far: 0.742 in, 0.744 in" in page
        assert build.readings.count() == 2

    def test_both_at_the_same_place_leave_the_newest(self, send, build):
        send(length="0.742")
        send(length="0.744")

        assert build.readings.count() == 2
        assert sizes_of(build)["seat", "thickness"] == Fraction("0.744")


class TestABuildThatCannotBeSolved:
    """As after two phones at once, or an older version that let more through."""

    @pytest.fixture
    def broken(self, build, student):
        log(build, POPLAR, "0.742")
        good = build.readings.get()
        Reading.objects.create(
            build=build,
            target=str(POPLAR),
            point=2,
            typed="99",
            mm=99 * IN,
            unit="in",
            instrument="tape",
            at=good.at,
            by=student,
        )
        return build

    @pytest.mark.parametrize("name", ["build-detail", "readings", "cut-sheet"])
    def test_its_pages_say_why(self, name, broken, as_student):
        answered = as_student.get(reverse(name, args=[broken.pk]))

        assert answered.status_code == 200
        assert "must be above 0" in text(answered)

    def test_the_reading_can_be_set_aside(self, broken, aside, as_student):
        aside(POPLAR, 2)
        answered = as_student.get(reverse("build-detail", args=[broken.pk]))

        assert sizes_of(broken)["seat", "thickness"] == Fraction("0.742")
        assert answered.status_code == 200

    def test_the_reading_can_be_taken_again(self, broken, send):
        assert send(point=2, length="0.744").status_code == 200


class TestQueries:
    def test_logging_takes_six(
        self, send, build, django_assert_max_num_queries, as_student
    ):
        log_stock(build)
        with django_assert_max_num_queries(6):
            send(target=str(SHELF_CUT), length="35 1/4", instrument="tape")

    def test_asking_again_takes_no_more(self, send, django_assert_max_num_queries):
        with django_assert_max_num_queries(6):
            send(length="wide")

    @pytest.mark.parametrize("readings", [0, 6])
    def test_history_takes_as_many_whatever_was_logged(
        self, readings, build, as_student, django_assert_num_queries
    ):
        if readings:
            log_stock(build)
        with django_assert_num_queries(5):  # session, user, build, readings, ways out
            as_student.get(reverse("readings", args=[build.pk]))
