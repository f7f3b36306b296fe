"""A pass mark is a share of what was asked."""

import pytest

from projects.engine.shop.marking import PassMarkError, has_passed


@pytest.mark.parametrize(
    ("right", "asked", "mark", "passed"),
    [
        (8, 10, 80, True),
        (7, 10, 80, False),
        (2, 3, 67, False),  # 66.7 %
        (2, 3, 66, True),
        (0, 10, 1, False),
        (10, 10, 100, True),
    ],
)
def test_it_is_reached_or_not(right, asked, mark, passed):
    assert has_passed(right, asked, pass_mark_pct=mark) is passed


@pytest.mark.parametrize(("asked", "mark"), [(0, 80), (10, 0), (10, 101)])
def test_a_mark_without_sense_is_refused(asked, mark):
    with pytest.raises(PassMarkError, match="pass mark"):
        has_passed(0, asked, pass_mark_pct=mark)
