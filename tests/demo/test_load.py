"""The demo's class: who is in it, how far each is, and one build by hand."""

from fractions import Fraction

import pytest
from django.contrib.auth import authenticate
from django.contrib.auth.hashers import check_password
from django.test import RequestFactory

from projects import adapters, pins
from projects.demo.people import STAFF, STUDENTS
from projects.demo.stages import STAGES
from projects.engine.fit.advice import next_to_log
from projects.engine.units import nearest_mark
from projects.models import (
    Build,
    Membership,
    Plan,
    Reading,
    ShopClass,
    User,
)
from projects.roster import is_code

MM = Fraction("25.4")


def solution_of(username):
    build = Build.objects.with_plan().get(student__username=username)
    return adapters.solve_build(build, build.readings.all())


def inches(solution, part, dimension):
    return solution.sizes[part, dimension] / MM


class TestPeople:
    @pytest.mark.parametrize("username", ["hanne", "osric"])
    def test_two_instructors_teach_fourteen_students(self, loaded, username):
        shop_class = ShopClass.objects.taught_by(User.objects.get(username=username))

        assert shop_class.get().builds.present().count() == 14
        assert Build.objects.count() == 14

    def test_an_assistant_may_log_and_sign(self, loaded):
        bettina = Membership.objects.get(user__username="bettina")

        assert bettina.role == Membership.Role.ASSISTANT
        assert (bettina.may_log, bettina.may_sign) == (True, True)
        assert not bettina.may_roster

    def test_two_have_not_joined_yet(self, loaded):
        people = [person for person in User.objects.all() if not person.has_joined]

        assert {person.username for person in people} == {"benchpeg", "sawdust7"}
        assert all(is_code(person.username) for person in people)
        assert loaded.codes == ["benc-hpeg", "sawd-ust7"]

    def test_the_staff_sign_with_pins_that_nobody_guesses_first(self, loaded):
        staff = {person.username: person for person in User.objects.exclude(pin="")}

        assert set(staff) == {"hanne", "osric", "bettina"}
        for username, pin in loaded.pins:
            assert check_password(pin, staff[username].pin)
            assert not pins.is_guessable(pin)

    def test_the_instructor_sees_three_plans(self, loaded):
        titles = Plan.objects.filter(owner__username="hanne").values_list("title")

        assert {title for (title,) in titles} == {
            "Hall boot bench",
            "Step stool",
            "Tool tray",
        }

    def test_everybody_can_sign_in(self, loaded):
        request = RequestFactory().post("/")
        people = (*STAFF, *STUDENTS)
        names = [
            str(
                authenticate(
                    request, username=person.username, password=person.password
                )
            )
            for person in people
        ]

        assert names == [person.name for person in people]

    def test_five_are_shown_the_instructor_first(self, loaded):
        assert [(who, username) for who, username, _ in loaded.sign_ins] == [
            ("Hanne Quillworth, instructor", "hanne"),
            ("Adaeze Okorim, student", "adaeze"),
            ("Jonah Brackwell, student", "jonah"),
            ("Osric Veldane, instructor", "osric"),
            ("Bettina Harkvold, assistant", "bettina"),
        ]

    def test_passwords_are_easy_on_a_phone(self):
        passwords = [person.password for person in (*STAFF, *STUDENTS)]

        assert all(word.isascii() and word.islower() for word in passwords)
        assert all(word.isalpha() and 9 <= len(word) <= 13 for word in passwords)
        assert len(set(passwords)) == 15


class TestStages:
    def test_each_student_has_something_else_to_log_next(self, loaded):
        nexts = {}
        for username in STAGES:
            following = next_to_log(solution_of(username))
            nexts[username] = (
                f"{following.target} {following.point}" if following.target else ""
            )

        assert nexts == {
            "tomas": "stock:poplar34 1",
            "adaeze": "stock:poplar34 2",
            "leif": "stock:poplar34 3",
            "yuki": "distance:opening 1",
            "priya": "distance:opening 1",
            "rosa": "stock:ply14 1",
            "samir": "distance:opening 1",
            "ingrid": "distance:opening 1",
            "kofi": "distance:opening 1",
            "olena": "",
            "jonah": "",
            # her shelf can't be as short as she logged it
            "meilin": "cut:shelf.length 1",
        }

    def test_two_kept_a_reading_after_a_second_look(self, loaded):
        kept = Reading.objects.filter(kept_after_second_look=True)

        assert {(row.by.username, row.typed) for row in kept} == {
            ("rosa", "0.781"),
            ("meilin", "35 1/8"),
        }

    def test_samir_corrected_his_first_point_and_both_readings_show(self, loaded):
        rows = Reading.objects.filter(
            by__username="samir", target="stock:poplar34", point=1
        )

        assert [row.typed for row in rows] == ["0.757", "0.737"]
        # (0.737 + 0.738 + 0.736) / 3
        assert inches(solution_of("samir"), "seat", "thickness") == Fraction("0.737")

    def test_ingrid_set_her_fourth_point_aside(self, loaded):
        rows = Reading.objects.filter(by__username="ingrid", point=4)

        assert [row.typed for row in rows] == ["0.718", ""]
        assert len(solution_of("ingrid").readings.stock["poplar34"]) == 3

    def test_priya_measures_in_millimetres(self, loaded):
        units = Reading.objects.filter(by__username="priya").values_list("unit")

        assert {unit for (unit,) in units} == {"mm"}
        # (18.9 + 18.8 + 19) / 3
        size_mm = solution_of("priya").sizes["seat", "thickness"]
        assert size_mm == Fraction("18.9")

    def test_leif_reads_a_tape(self, loaded):
        instruments = Reading.objects.filter(by__username="leif").values_list(
            "instrument"
        )

        assert {instrument for (instrument,) in instruments} == {"tape"}

    def test_kofi_has_own_readings_of_shelf_and_divider(self, loaded):
        solution = solution_of("kofi")

        # (0.722 + 0.724 + 0.721) / 3 and (0.729 + 0.727) / 2
        assert inches(solution, "shelf", "thickness") == Fraction("2.167") / 3
        assert inches(solution, "divider", "thickness") == Fraction("0.728")


class TestDryFit:
    def test_olenas_rail_follows_the_opening_and_the_overall_width_gives(self, loaded):
        solution = solution_of("olena")

        # 34 17/32 + 1/2 + 1/2
        assert inches(solution, "back_rail", "length") == Fraction(1137, 32)
        # sides (0.744 + 0.747 + 0.745) / 3 each: 34.53125 + 2 x 2.236 / 3 - 36
        assert solution.gives_mm("overall_width") == MM * (
            Fraction("34.53125") + 2 * Fraction("2.236") / 3 - 36
        )
        assert not solution.in_doubt

    def test_jonahs_shelf_agrees_within_a_mark(self, loaded):
        solution = solution_of("jonah")
        (doubt,) = solution.in_doubt

        assert inches(solution, "back_rail", "length") == Fraction("35.5")
        assert str(doubt.fact) == "shelf.length"
        assert doubt.agrees
        # 35.25 - (34.5 + 0.742 / 2 + 0.742 / 2)
        assert doubt.off_mm / MM == Fraction("0.008")

    def test_mei_lins_shelf_is_in_doubt(self, loaded):
        (doubt,) = solution_of("meilin").in_doubt

        assert str(doubt.fact) == "shelf.length"
        assert not doubt.agrees
        # sides 2.248 / 3 each: 35.125 - (34.5 + 2.248 / 3)
        assert doubt.off_mm / MM == Fraction("0.625") - Fraction("2.248") / 3


class TestYukisSizesByHand:
    """Poplar 0.742, 0.744, 0.741: T = 2.227 / 3; plywood 0.240, 0.238, 0.239: 0.239."""

    def test_parts(self, loaded):
        by_hand = {
            # 36 - T - T + 3/8 + 3/8 = (110.25 - 4.454) / 3 = 35.26533…
            ("seat", "length"): Fraction("105.796") / 3,
            # 36 - T/2 - T/2 = (108 - 2.227) / 3 = 35.25766…
            ("shelf", "length"): Fraction("105.773") / 3,
            # 14 - T - 0.239 = (41.283 - 2.227) / 3 = 13.01866…
            ("shelf", "width"): Fraction("39.056") / 3,
            ("divider", "width"): Fraction("39.056") / 3,
            # 18 - 3 - T - T + 1/4 + 1/4 = (46.5 - 4.454) / 3 = 14.01533…
            ("divider", "length"): Fraction("42.046") / 3,
            # 36 - T - T + 1/4 + 1/4 = (109.5 - 4.454) / 3 = 35.01533…
            ("back", "length"): Fraction("105.046") / 3,
            # 18 - T + 1/4 - 3 = (45.75 - 2.227) / 3 = 14.50766…
            ("back", "width"): Fraction("43.523") / 3,
            # 36 - T - T + 1/2 + 1/2 = (111 - 4.454) / 3 = 35.51533…
            ("back_rail", "length"): Fraction("106.546") / 3,
        }
        solution = solution_of("yuki")

        assert {key: inches(solution, *key) for key in by_hand} == by_hand

    def test_joints_and_tape(self, loaded):
        solution = solution_of("yuki")
        mark = nearest_mark(solution.sizes["seat", "length"], tape=16)

        # the thickest point and the clearance: 0.744 + 0.005
        assert solution.cuts["shelf_left"].width_mm == Fraction("0.749") * MM
        # half of T
        assert solution.cuts["shelf_left"].depth_mm == Fraction("2.227") / 6 * MM
        # 0.240 + 0.005
        assert solution.cuts["back_top"].width_mm == Fraction("0.245") * MM
        # 35.2653 lies over 35 4/16 and under 35 5/16
        assert (mark.whole, mark.top, mark.bottom, mark.off) == (35, 1, 4, "full")
