"""The numbers of a setup as the run sheet shows them."""

from projects.engine.setups.run_sheet import Job, run_sheet
from projects.present.run_sheet_numbers import as_set, number_lines
from projects.showing import Showing
from tests.engine.builds import inches, solved
from tests.engine.setups.setting_builds import case, settings


def stopped(front, back):
    """Return the setting of both sides' slots, stopped at both edges."""
    of = case(stops=[{"at": "front", "by": front}, {"at": "back", "by": back}])
    parts = ("left_side", "right_side")
    [setting] = settings(
        solved(of), "router_table", "shelf_left", "shelf_right", parts=parts
    )
    return setting


def test_both_edges_that_a_slot_stops_short_of_have_their_number():
    setting = stopped("1/2", "3/4")
    [setup] = run_sheet([Job(who=1, step="s", setting=setting)]).setups
    lines = number_lines(
        setup,
        setting,
        None,
        same_way=False,
        showing=Showing(key="in", style="in", tape=16),
    )
    shown = {line.label: line.shown.text for line in lines}

    assert shown["Stops short by"] == "0.500"
    assert shown["At the other edge short by"] == "0.750"


def test_each_edge_gets_its_own_number_of_the_shared_setup():
    """Bo and Cy want 17/32 and 25/32, Ann 1/2 and 3/4: 1/32 off, near enough."""
    ann = stopped("1/2", "3/4")
    others = [stopped("17/32", "25/32") for _ in "bc"]
    [setup] = run_sheet(
        [Job(who=n, step="s", setting=one) for n, one in enumerate([ann, *others])]
    ).setups
    ends = [end for piece in as_set(ann, setup).pieces for end in piece.ends]

    assert [(end.edge, end.mm) for end in ends] == [
        ("front", inches("17/32")), ("back", inches("25/32")),
    ] * 2  # fmt: skip
