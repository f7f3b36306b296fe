"""Invented parts with cuts, to draw."""

from fractions import Fraction

from hypothesis import strategies as st

from projects.engine.drawing.worked import (
    Measured,
    PartSheet,
    PartWork,
    SlotMark,
    WorkedFace,
    WorkNote,
    outline,
)
from tests.engine.drawing.pieces import INCH, inches


def show(mm):
    return str(mm / INCH)


def span(low, high):
    return inches(low), inches(high)


def dado(**more):
    fields = {
        "joint": "shelf_left",
        "kind": "slot",
        "title": "Dado",
        "other": "Shelf",
        "u": span(6, "27/4"),
        "v": span("1/2", 14),
        "across": "u",
        "width_mm": inches("3/4"),
        "depth_mm": inches("3/8"),
        "low": "stopped",
    }
    return SlotMark(**{**fields, **more})


def face(marks, *, name="right", v_reversed=True, width=18, height=14, **more):
    wide, high = inches(width), inches(height)
    fields = {
        "face": name,
        "u_ends": ("bottom", "top"),
        "v_ends": ("front", "back"),
        "width_mm": wide,
        "height_mm": high,
        "outline": outline(wide, high, {}),
        "marks": tuple(marks),
        "v_reversed": v_reversed,
    }
    return WorkedFace(**{**fields, **more})


def part(faces, *, key="left_side", name="Left side", notes=()):
    return PartWork(
        key=key,
        name=name,
        count=1,
        stock="3/4 in poplar",
        length_mm=inches(18),
        width_mm=inches(14),
        thickness_mm=inches("3/4"),
        faces=tuple(faces),
        notes=tuple(notes),
    )


def pair(*, other_depth="3/8"):
    left = part([face([dado()])])
    mark = dado(joint="shelf_right", depth_mm=inches(other_depth))
    right = part(
        [face([mark], name="left", v_reversed=False)],
        key="right_side",
        name="Right side",
    )
    return PartSheet(parts=(left, right))


def tenoned():
    """A rail with a tenon at each end, shoulders all round."""
    wide, high = inches(20), inches(4)
    notch = (inches(1), inches("1/2"))
    ends = [(False, False), (False, True), (True, False), (True, True)]
    tenons = [
        SlotMark(
            joint=joint,
            kind="tenon",
            title="Tenon",
            other="Leg",
            u=u,
            v=span("1/2", "7/2"),
            across="u",
            width_mm=inches(1),
            low="stopped",
            high="stopped",
            measures=(Measured(name="tenon length", mm=inches(1)),),
        )
        for joint, u in (("one", span(0, 1)), ("two", span(19, 20)))
    ]
    rail = face(
        tenons,
        name="front",
        width=20,
        height=4,
        u_ends=("left", "right"),
        v_ends=("bottom", "top"),
        v_reversed=False,
        outline=outline(wide, high, {end: [notch] for end in ends}),
        free=True,
    )
    return PartSheet(parts=(part([rail], key="rail", name="Rail"),))


NOTE = WorkNote(
    title="Dado",
    other="Shelf",
    measures=(Measured(name="width", mm=inches("3/4")),),
    why="the plan doesn't say how far from the bottom",
)


@st.composite
def worked_sheets(draw):
    """Draw a part with a few cuts anywhere on one face."""
    width, height = draw(st.integers(2, 40)), draw(st.integers(1, 20))

    def intervals(whole):
        end = st.integers(0, 4 * whole)
        return (
            st.tuples(end, end)
            .filter(lambda ends: ends[0] != ends[1])
            .map(lambda ends: tuple(Fraction(e, 4) * INCH for e in sorted(ends)))
        )

    reach = st.sampled_from(["open", "stopped", "guest"])
    marks = [
        dado(
            joint=f"j{n}",
            kind=draw(st.sampled_from(["slot", "holes"])),
            u=u,
            v=draw(intervals(height)),
            width_mm=u[1] - u[0],
            depth_mm=inches(draw(st.sampled_from(["1/4", "3/8", "1/2"]))),
            low=draw(reach),
            high=draw(reach),
        )
        for n, u in enumerate(draw(st.lists(intervals(width), max_size=5)))
    ]
    turn = {
        "u_reversed": draw(st.booleans()),
        "v_reversed": draw(st.booleans()),
        "either": draw(st.sampled_from(["", "left"])),
    }
    return PartSheet(parts=(part([face(marks, width=width, height=height, **turn)]),))
