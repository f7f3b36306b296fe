"""How sizes are shown, and the markup they are written in."""

from fractions import Fraction

import pytest
from django.template import Context, Template

from projects import adapters
from projects.showing import CHOICES, showing_named

IN = Fraction(254, 10)


@pytest.fixture
def plan(build):
    return adapters.plan_of(build.revision)


def written(mm, showing):
    template = Template("{% load sizes %}{% size mm showing %}")
    return template.render(Context({"mm": mm, "showing": showing}))


@pytest.mark.parametrize(
    ("key", "seen"),
    [
        ("tape-8", "35 <i>1/4</i>"),
        ("tape-16", "35 <i>1/4</i> <small>full</small>"),
        ("tape-64", "35 <i>17/64</i>"),
        ("in", "35.266 <small>in</small>"),
        ("mm", "895.7 <small>mm</small>"),
    ],
)
def test_a_size_in_each_way(key, seen, plan):
    # 35.2656 in is 35 17/64 in exactly
    mm = (35 + Fraction(17, 64)) * IN
    html = written(mm, showing_named(key, plan))
    shown = html.partition('aria-hidden="true">')[2].partition("</span>")[0]

    assert shown.startswith(seen)
    assert '<span class="vh">' in html


def test_nobody_has_to_choose(plan):
    for key in ("", "ell", "tape-7"):
        assert showing_named(key, plan).key == "tape-16"


def test_each_choice_is_usable(plan):
    for key in CHOICES:
        assert showing_named(key, plan).of(Fraction(19)).spoken
        assert showing_named(key, plan).words


def test_below_nothing_has_a_minus(plan):
    assert "−3/8" in written(-Fraction(3, 8) * IN, showing_named("", plan)).replace(
        "<i>", ""
    ).replace(" ", "")
