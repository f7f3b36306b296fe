"""Settings in words."""

import json
from pathlib import Path
from string import Formatter

import pytest

from projects.engine.fit.solve import solve
from projects.engine.plan.readings import Readings
from projects.engine.setups.setting_words import piece_words, setting_words
from projects.engine.setups.settings import step_settings
from projects.engine.shop.machines import HAND_TOOLS
from projects.engine.steps import propose
from projects.engine.units import exact_text
from tests.engine.builds import plan, solved
from tests.engine.setups.setting_builds import case, framed, settings, step

PLANS = Path("projects/demo/plans")
DEMO = ("hall_boot_bench", "step_stool", "tool_tray")


def show(mm):
    return exact_text(mm, unit="in")


def said(solution, setting):
    """Return a setting's sentences, then those of its pieces."""
    read = solution.plan
    lines = [words.text(show=show) for words in setting_words(read, setting)]
    for piece in setting.pieces:
        words = piece_words(read, setting, piece)
        lines.append(" ".join(one.text(show=show) for one in words))
    return lines


def all_said(solution, machine, *joints, **more):
    return [
        line
        for setting in settings(solution, machine, *joints, **more)
        for line in said(solution, setting)
    ]


def test_a_pair_of_dadoes_at_the_saw():
    assert all_said(solved(case()), "table_saw", "shelf_left", "shelf_right") == [
        "Stop 6 in from the near side of the blade; slot 0.755 in wide, 3/8 in deep.",
        "Stand the stop to the right of the blade as you feed: to the left of it the "
        "other edge goes first.",
        "Left side: inside face down, bottom end to the stop, front edge first.",
        "Right side: inside face down, bottom end to the stop, back edge first.",
    ]


def test_one_of_a_pair_names_its_face():
    assert all_said(solved(case()), "table_saw", "shelf_left")[2] == (
        "Left side: right face down, bottom end to the stop, front edge first."
    )


def test_stopped_dadoes_tell_which_end_goes_in_first():
    of = case(stops=[{"at": "front", "by": "1/2"}])
    parts = ("left_side", "right_side")
    lines = all_said(
        solved(of), "router_table", "shelf_left", "shelf_right", parts=parts
    )

    assert "It stops 1/2 in short of the front edge, which goes in first." in lines[2]
    assert "It stops 1/2 in short of the front edge, which comes out last." in lines[3]


@pytest.mark.parametrize(
    ("machine", "kind", "names"),
    [
        ("table_saw", "dado", "stop to the right of the blade"),
        ("router_table", "dado", "stop to the right of the bit"),
        ("table_saw", "groove", "fence to the right of the blade"),
        ("router", "dado", None),
    ],
)
def test_where_an_edge_goes_first_the_side_of_the_stop_is_said(machine, kind, names):
    of = solved(case()) if kind == "dado" else framed("groove", depth="1/4")
    key = "shelf_left" if kind == "dado" else "j"
    lines = all_said(of, machine, key)

    assert any(" first." in line for line in lines[2:]) is bool(names)
    assert any(names and names in line for line in lines) is bool(names)


def test_with_a_router_it_is_marked():
    assert all_said(solved(case()), "router", "shelf_left") == [
        "Mark 6 in to the near side of the cut; slot 0.755 in wide, 3/8 in deep.",
        "Left side: right face up, measured from the bottom end.",
    ]


def test_by_hand():
    assert all_said(solved(case()), HAND_TOOLS, "shelf_left")[1] == (
        "Left side: on the right face, measured from the bottom end."
    )


def test_a_mortise_and_its_tenon():
    solution = framed("tenon", depth="1", tenon={"thickness": "1/4"})

    assert all_said(solution, "mortiser", "j", parts=("stile",)) == [
        "Fence 1/4 in from the near side of the chisel; mortise 1/4 in wide, 1.0625 in "
        "deep, 4 in long.",
        "Stile: right edge up, front face to the fence. It starts 0 in from the bottom "
        "end.",
    ]
    assert all_said(solution, "table_saw", "j", parts=("rail",)) == [
        "Stop 1 in from the far side of the blade; 1/4 in high; what is cut away lies "
        "on the side measured from.",
        "Rail: front face down, then back face down, left end to the stop.",
        "Fence 1/2 in from the near side of the blade; 1 in high; what lies between "
        "stays.",
        "Rail: left end down, front face to the fence, then back face to the fence.",
    ]


def test_shoulders_at_the_band_saw_are_marked():
    solution = framed("tenon", depth="1", tenon={"thickness": "1/4"})
    lines = all_said(solution, "band_saw", "j", parts=("rail",))

    assert lines[0].startswith("Mark 1 in to the inner side of the cut")
    assert lines[2].startswith("Fence 1/2 in from the near side of the blade")


def test_a_lap_leaves_the_face_to_the_maker_once():
    lines = all_said(framed("half_lap"), "router", "j")

    assert sum("leaves open which wide face" in line for line in lines) == 2


def test_holes():
    solution = framed("dowel", dowels={"diameter": "3/8", "length": "2", "count": 2})

    assert all_said(solution, "drill_press", "j") == [
        "Bit of 3/8 in, 1.0625 in deep; mark the two parts from each other.",
        "Stile: right edge up. Holes: 2.",
        "Rail: left end up. Holes: 2.",
    ]


def test_several_copies_are_counted():
    of = case()
    del of["parts"][0]["pair"], of["parts"][1]["pair"]
    of["parts"][0]["count"] = 2

    assert all_said(solved(of), "table_saw", "shelf_left")[2].startswith(
        "Left side, 2 of them: right face down"
    )


def sizes_said(machine, part, readings=None):
    solution = solved(case(), readings)
    of = step(machine, stage="mill", parts=(part,))
    [setting] = step_settings(solution, of, machine)
    return said(solution, setting)


def test_what_waits_names_the_distance():
    assert sizes_said("mitre_saw", "shelf") == [
        "Wait: measure Opening on the dry assembly first.",
        "Shelf.",
    ]


def test_what_is_in_doubt_is_to_be_measured_again():
    read = {"distances": {"opening": "34 1/2"}, "cut": {"shelf.length": "30"}}

    assert sizes_said("mitre_saw", "shelf", read)[1] == (
        "Shelf. Measure Shelf again first: what it was logged as cut at can't be."
    )


def test_every_template_and_term_is_given_to_the_translator():
    solution = solved(case())
    [setting] = settings(solution, "table_saw", "shelf_left")
    asked = []

    def say(words):
        asked.append(words)
        return words

    for words in setting_words(solution.plan, setting):
        words.text(show=show, say=say)
    for words in piece_words(solution.plan, setting, setting.pieces[0]):
        words.text(show=show, say=say)

    assert "Stop {stop} from the near side of the {tool}" in asked
    assert {"blade", "bottom", "{face} down", "{face} first"} <= set(asked)


@pytest.mark.parametrize("name", DEMO)
def test_every_setting_of_the_demo_plans_can_be_said(name):
    read = plan(json.loads((PLANS / f"{name}.json").read_text("utf-8")))
    solution = solve(read, Readings())
    for of in propose(read):
        for machine in (of.machine, *(way.machine for way in of.other_ways)):
            for setting in step_settings(solution, of, machine):
                for line in said(solution, setting):
                    assert line[0].isupper()
                    assert line.endswith(".")
                    assert "safe" not in line
                    assert not [f for _, f, _, _ in Formatter().parse(line) if f]
