"""A fitted part that came out wrong: Jonah's toe board, from the saw to a new one.

His opening is 34 1/2 in at both ends, and so is the toe board, which only butts. Cut at
34 1/4, it puts the opening, the shelf and the rail in doubt, which are all right.
"""

from fractions import Fraction

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from projects import adapters, class_pack, overview
from projects.engine.fit.advice import next_to_log
from projects.models import Build, User
from projects.present.history import used_lines
from projects.showing import showing_named

IN = Fraction(254, 10)
TOE = "cut:toe_board.length"
TODAY = timezone.localdate()


def browser(username):
    client = Client()
    user = User.objects.get(username=username)
    client.force_login(user, backend="django.contrib.auth.backends.ModelBackend")
    return client


def jonahs():
    return Build.objects.with_plan().get(student__username="jonah")


def solved():
    build = jonahs()
    return adapters.solve_build(build, list(build.readings.all()))


def doubts(solution):
    return [str(doubt.fact) for doubt in solution.in_doubt if not doubt.agrees]


def cut(length):
    form = {"target": TOE, "point": "1", "length": length, "instrument": "tape"}
    url = reverse("readings", args=[jonahs().pk])
    return browser("jonah").post(url, form | {"keep": "1"})


def seen_by_the_class():
    """Return what the overview tells of Jonah, and what names the class's pack."""
    build = jonahs()
    shop_class = build.shop_class
    shop_class.may_sign = True
    roll = overview.roll_of(shop_class, now=timezone.now())
    [student] = [one for one in roll.students if one.build == build.pk]
    stand = overview.stand(roll, overview.rows_of(roll), student)
    rows = class_pack.rows_of(shop_class, today=TODAY)
    showing = showing_named("", stand.plan)
    return stand, roll.token, class_pack.digest(
        shop_class, rows, paper="a4", showing=showing, today=TODAY
    )  # fmt: skip


@pytest.fixture
def page(loaded):
    return reverse("build-miscut", args=[jonahs().pk, "toe_board", "length"])


def test_cut_wrong_agreed_and_cut_anew(page):
    jonah, hanne = browser("jonah"), browser("hanne")
    assert next_to_log(solved()).cut_now == ("toe_board",)
    assert cut("34 1/4").status_code == 302
    assert doubts(solved())
    before, token, digest = seen_by_the_class()
    assert before.doubts

    proposal = {"way": "cut_again", "left_length": "40", "left_width": "6"}
    assert jonah.post(page, proposal).status_code == 302
    assert doubts(solved())  # a proposal alone changes nothing
    way = jonahs().ways_out.get()
    decide = reverse("way-decide", args=[way.build_id, way.pk])
    assert hanne.post(decide, {"agreed": "1"}).status_code == 302

    agreed = solved()
    assert doubts(agreed) == []
    assert next_to_log(agreed).cut_now == ("toe_board",)
    assert agreed.sizes["toe_board", "length"] == 69 * IN / 2
    stand, new_token, new_digest = seen_by_the_class()
    assert stand.doubts == 0
    assert stand.in_hand.standing.is_open
    assert token != new_token
    assert digest != new_digest
    build = jonahs()
    used = used_lines(list(build.readings.all()), agreed.plan)
    assert not [line for line in used if line.name.startswith("Toe board")]

    home = jonah.get(reverse("build-detail", args=[build.pk])).content.decode()
    assert "Cut now, to the dry fit" in home
    assert "In doubt:" not in home
    history = jonah.get(reverse("readings", args=[build.pk])).content.decode()
    assert "set aside: cut again, agreed by Hanne" in history

    assert cut("34 1/2").status_code == 302
    assert next_to_log(solved()).cut_now == ()
    assert doubts(solved()) == []
    assert [str(row.mm / IN) for row in build.readings.filter(target=TOE) if row.mm] \
        == ["137/4", "69/2"]  # fmt: skip
    assert "As logged it fits" in jonah.get(page).content.decode()
