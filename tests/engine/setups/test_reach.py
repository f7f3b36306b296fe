"""What of a setting is more than its machine takes."""

from projects.engine.setups.reach import beyond
from projects.engine.setups.settings import step_settings
from projects.engine.units import exact_text
from tests.engine.builds import inches, solved
from tests.engine.setups.setting_builds import case, framed, settings, step


def said(solution, setting, **has):
    found = beyond(solution, setting, {key: (inches(v),) for key, v in has.items()})
    return [w.text(show=lambda mm: exact_text(mm, unit="in")) for w in found]


def milled(machine, part, kind):
    solution = solved(case())
    of = step(machine, stage="mill", parts=(part,))
    [setting] = [s for s in step_settings(solution, of, machine) if s.kind == kind]
    return solution, setting


def test_a_fence_past_the_throat_of_a_band_saw():
    solution, setting = milled("band_saw", "left_side", "rip")
    wide = setting.stop_mm
    at = exact_text(wide, unit="in")

    assert said(solution, setting, throat="10") == [
        f"This band saw's throat is 10 in; the fence would stand at {at}."
    ]
    assert beyond(solution, setting, {"throat": (wide,)}) == ()


def test_a_fence_past_the_widest_rip_and_a_part_thicker_than_the_cut():
    solution, setting = milled("table_saw", "left_side", "rip")

    first, second = said(solution, setting, widest_rip="10", deepest_cut="1/2")
    assert first.startswith("This table saw's widest rip is 10 in; the fence would")
    assert second == "This table saw cuts 1/2 in deep; Left side is 3/4 in thick."


def test_a_board_wider_than_a_mitre_saw_cuts():
    solution, setting = milled("mitre_saw", "left_side", "crosscut")

    [line] = said(solution, setting, widest_crosscut="10")
    assert line.startswith("This mitre saw's widest crosscut is 10 in; Left side is")


def test_a_mortise_deeper_than_the_stroke_in_a_part_too_high():
    solution = framed("tenon", depth="1", tenon={"thickness": "1/4"})
    [setting] = settings(solution, "mortiser", "j", parts=("stile",))

    assert said(solution, setting, stroke="1", thickest="3/2") == [
        "This mortiser cuts 1 in at once; this goes 1.0625 in deep.",
        "This mortiser takes parts 1.5 in thick; Stile lies 2 in high.",
    ]


def test_what_nobody_wrote_down_limits_nothing():
    solution, setting = milled("band_saw", "left_side", "rip")

    assert said(solution, setting) == []
