"""An open overview asks: what changed is answered, and nothing else."""

from datetime import date, timedelta

import pytest

from projects.models import (
    ShopClass,
)
from tests.factories import (
    POPLAR,
    MachineFactory,
    enrol,
    log,
    sign_off,
)
from tests.projects.views.overview.things import (
    AT,
    HTMX,
    leave,
    mark,
    move,
    publish,
    raise_hand,
    record,
    rename,
    retire,
    set_aside,
    since,
    take_check,
    text,
)


class TestAsking:
    @pytest.fixture
    def ask(self, look):
        """Ask as an open page does; tell the status: ask()."""
        token = since(text(look()))

        return lambda: look(f"?since={token}", **HTMX).status_code

    def test_where_nothing_changed_the_answer_is_empty(self, look, build, saw):
        answered = look(f"?since={since(text(look()))}", **HTMX)

        assert answered.status_code == 204
        assert answered.content == b""
        assert "HX-Request" in answered.headers["Vary"]

    def test_what_changed_comes_as_the_live_part_alone(self, look, build):
        token = since(text(look()))
        mark(build, "rough_cut")
        answered = look(f"?since={token}", **HTMX)

        assert answered.status_code == 200
        assert text(answered).lstrip().startswith('<div id="overview"')
        assert "<html" not in text(answered)
        assert since(text(answered)) != token

    def test_it_asks_for_what_is_shown(self, look, build):
        page = text(look("?sort=name&show=hands&stage=mill"))

        asked = 'hx-get="?sort=name&amp;show=hands&amp;stage=mill&amp;since='
        assert asked in page

    def test_without_htmx_the_whole_page_comes(self, look, build):
        answered = look(f"?since={since(text(look()))}")

        assert "<html" in text(answered)

    @pytest.mark.parametrize(
        "change",
        [
            lambda build, saw: log(build, POPLAR, "0.742"),
            lambda build, saw: mark(build, "rough_cut"),
            lambda build, saw: raise_hand(build),
            lambda build, saw: sign_off(build.student, saw),
            lambda build, saw: record(build, saw, by=build.student, at=AT),
            lambda build, saw: take_check(build, saw, AT),
            lambda build, saw: enrol(build.shop_class),
            lambda build, saw: leave(build),
            lambda build, saw: retire(saw),
            lambda build, saw: MachineFactory.create(shop=saw.shop, kind="sander"),
            lambda build, saw: rename(saw),
            lambda build, saw: rename(build.student),
            lambda build, saw: move(build),
            lambda build, saw: publish(build),
            lambda build, saw: ShopClass.objects.update(archived_at=AT),
        ],
        ids=[
            "a reading", "a mark", "a hand", "a sign-off", "a requirement met",
            "a check taken", "somebody joins", "somebody leaves", "a machine retired",
            "a machine more", "a machine renamed", "a student renamed",
            "a build moved", "a newer revision", "the class archived",
        ],
    )  # fmt: skip
    def test_each_change_is_answered(self, change, build, saw, ask):
        assert ask() == 204

        change(build, saw)
        assert ask() == 200

    @pytest.mark.parametrize(
        "change",
        [
            lambda build, saw: mark(build, "rough_cut", done=False),
            lambda build, saw: raise_hand(build, raised=False),
            lambda build, saw: sign_off(build.student, saw, act="withdrawn"),
            lambda build, saw: set_aside(build),
        ],
        ids=["a step undone", "a hand down", "a withdrawal", "a reading set aside"],
    )
    def test_and_so_is_each_that_takes_back(self, change, build, saw, look):
        log(build, POPLAR, "0.742")
        mark(build, "rough_cut")
        raise_hand(build)
        sign_off(build.student, saw)
        token = since(text(look()))

        change(build, saw)
        assert look(f"?since={token}", **HTMX).status_code == 200

    @pytest.mark.parametrize("minutes", [0, 4])
    def test_a_while_is_no_change(self, minutes, ask, clock):
        clock(AT + timedelta(minutes=minutes))

        assert ask() == 204

    def test_the_times_are_told_anew_every_ten_minutes(self, ask, clock):
        clock(AT + timedelta(minutes=10))

        assert ask() == 200

    def test_midnight_is_a_change(self, build, saw, look, clock):
        sign_off(build.student, saw, lapses_on=date(2026, 3, 12))
        clock(AT.replace(hour=23, minute=59, second=59))
        token = since(text(look()))

        clock(AT.replace(hour=23, minute=59, second=59) + timedelta(seconds=1))
        assert look(f"?since={token}", **HTMX).status_code == 200

    def test_what_others_do_is_no_change(self, build, saw, ask, other_class):
        theirs = enrol(other_class)
        log(theirs, POPLAR, "0.742")
        mark(theirs, "rough_cut")
        raise_hand(theirs)
        elsewhere = MachineFactory.create(shop=other_class.shop)
        sign_off(theirs.student, elsewhere)
        sign_off(build.student, elsewhere)  # in the other shop

        assert ask() == 204
