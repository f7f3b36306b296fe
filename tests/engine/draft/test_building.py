"""The demo's bench, built from an empty document as an instructor would."""

import pytest

from projects import demo
from projects.engine import draft
from projects.engine.fit.solve import check_plan
from projects.engine.plan.reader import read_plan

STOP = [{"at": "front", "by": "1/2"}]
THIRD = {"thickness": {"of_thickness": "1/3"}, "edge_shoulder": "1/2"}


def with_parts():
    """Return title, stock and parts; the right side isn't there yet."""
    d = draft.blank("Hall boot bench")
    d = draft.add_stock(
        d, name="3/4 in yellow-poplar", thickness="3/4", species="yellow-poplar"
    )
    d = draft.add_stock(
        d, name="1/4 in plywood", kind="plywood", thickness="1/4",
        species="yellow birch",
    )  # fmt: skip
    poplar, plywood = (stock["key"] for stock in d["stock"])
    upright = {"length": "z", "width": "y", "thickness": "x"}
    on_edge = {"length": "x", "width": "z", "thickness": "y"}
    d = draft.add_part(d, name="Left side", **upright)
    d = draft.add_part(d, name="Seat", stock=poplar)
    d = draft.add_part(d, name="Shelf")
    d = draft.add_part(d, name="Divider", **upright)
    d = draft.add_part(d, name="Back rail", **on_edge)
    d = draft.add_part(d, name="Toe board", **on_edge)
    return draft.add_part(d, name="Back", stock=plywood, **on_edge)


def with_left_joints(d):
    """Return it with all that is joined to the left side."""
    for part, kind, more in (
        ("seat", "rabbet", {"depth": "3/8", "clearance": "0.005"}),
        ("shelf", "dado", {"depth": {"of_thickness": "1/2"}, "clearance": "0.005",
                           "stops": STOP}),
        ("back_rail", "tenon", {"depth": "1/2", "clearance": "0.005",
                                "tenon": THIRD}),
        ("back", "groove", {"depth": "1/4", "clearance": "0.005"}),
        ("toe_board", "butt", {}),
    ):  # fmt: skip
        d = draft.add_joint(
            d, kind=kind, guest=f"{part}.left", host="left_side.right", **more
        )
    return d


def with_other_ties(d):
    """Return it with the other joints, what is flush and even, and the distances."""
    for kind, guest, host, more in (
        ("dado", "divider.bottom", "shelf.top", {"depth": "1/4", "stops": STOP}),
        ("dado", "divider.top", "seat.bottom", {"depth": "1/4", "stops": STOP}),
        ("butt", "back_rail.top", "seat.bottom", {}),
        ("groove", "back.top", "seat.bottom", {"depth": "1/4"}),
        ("butt", "toe_board.top", "shelf.bottom", {}),
    ):
        d = draft.add_joint(d, kind=kind, guest=guest, host=host, **more)
    for first, *others in (
        ("left_side.front", "seat.front", "shelf.front", "divider.front"),
        ("left_side.back", "seat.back", "back_rail.back"),
        ("shelf.back", "divider.back", "back.front"),
        ("back.back", "back_rail.front"),
        ("left_side.top", "seat.top"),
        ("left_side.bottom", "toe_board.bottom"),
        ("back.bottom", "shelf.bottom"),
    ):
        for other in others:
            d = draft.make_flush(d, first, other)
    d = draft.add_even(
        d,
        [["left_side.right", "divider.left"], ["divider.right", "right_side.left"]],
    )
    for name, start, end, value, held in (
        ("Overall width", "left_side.left", "right_side.right", "36", 1),
        ("Seat height", "left_side.bottom", "seat.top", "18", 2),
        ("Overall depth", "left_side.front", "left_side.back", "14", 3),
        ("Floor to lower shelf", "left_side.bottom", "shelf.bottom", "3", "4"),
        ("Back rail", "back_rail.bottom", "back_rail.top", "3 1/2", None),
        ("Toe space", "left_side.front", "toe_board.front", "2", None),
    ):
        d = draft.add_distance(
            d, name=name, start=start, end=end, value=value, held=held
        )
    return draft.add_distance(
        d, name="Opening", start="left_side.right", end="right_side.left",
        measure="dry_fit", fits=["back_rail", "toe_board"],
    )  # fmt: skip


@pytest.fixture(scope="module")
def bench():
    d = draft.make_pair(with_left_joints(with_parts()), "left_side")
    return with_other_ties(d)


def sizes(plan):
    return dict(check_plan(plan).sizes)


def test_sizes_equal_the_plan_file(bench):
    of_file = read_plan((demo.PLANS / "hall_boot_bench.json").read_bytes())

    assert sizes(read_plan(draft.plan_text(bench))) == sizes(of_file)


def test_look_finds_nothing_left_to_do(bench):
    look = draft.look(bench)

    assert look.ready
    assert look.notes == ()
    assert look.solution is not None
    assert look.sizes == look.solution.sizes
    assert not any(one.guessed_sizes | one.guessed_places for one in look.drawn)


def test_cuts_in_the_sides_equal_the_plan_file(bench):
    of_file = draft.look(
        draft.read_document((demo.PLANS / "hall_boot_bench.json").read_bytes())
    )
    made = draft.look(bench)

    def in_sides(look):
        return {
            (joint.guest.part, joint.host): look.cuts[joint.key]
            for joint in look.plan.joints
            if joint.host.part in ("left_side", "right_side")
        }

    assert in_sides(made) == in_sides(of_file)
    assert len(in_sides(made)) == 10


def test_every_step_on_the_way_can_be_looked_at():
    empty = draft.look(draft.blank("Bench"))
    parts = draft.look(with_parts())

    assert [fault.text for fault in empty.faults] == ["a plan needs at least one part"]
    assert not parts.faults
    assert len(parts.drawn) == 7
    assert {q.kind for q in parts.questions} == {"size", "place"}


KEEPS_READY = {
    "rename": lambda d: draft.rename_part(d, "shelf", "Ledge", key_too=True),
    "rekey stock": lambda d: draft.rekey(d, "stock", d["stock"][0]["key"], "poplar"),
    "rekey joint": lambda d: draft.rekey(d, "joints", d["joints"][0]["key"], "first"),
    "rekey distance": lambda d: draft.rekey(d, "distances", "opening", "gap"),
    "units": lambda d: draft.set_units(d, "mm"),
    "tape": lambda d: draft.set_tape(d, "32"),
    "title": lambda d: draft.set_title(d, "Bench"),
    "count": lambda d: draft.change_part(d, "shelf", count="3"),
    "move": lambda d: draft.move(d, "parts", 0, to=5),
    "unpair": lambda d: draft.unpair(d, "left_side"),
    "step": lambda d: draft.add_step(d, title="Mill", stage="mill", parts=["back"]),
    "more stock": lambda d: draft.add_stock(d, name="Oak", thickness="1"),
    "kind": lambda d: draft.change_joint(d, d["joints"][0]["key"], kind="dado"),
    "again flush": lambda d: draft.make_flush(d, "left_side.front", "shelf.front"),
    "to a file and back": lambda d: draft.read_document(draft.plan_text(d)),
}


@pytest.mark.parametrize("operation", KEEPS_READY.values(), ids=KEEPS_READY)
def test_what_opens_nothing_keeps_it_ready_and_as_large(bench, operation):
    before, after = draft.look(bench), draft.look(operation(bench))

    assert after.ready, [note.text for note in after.notes]
    assert sorted(before.sizes.values()) == sorted(after.sizes.values())


OPENS = {
    "part": (
        lambda d: draft.remove_part(d, "seat"),
        "Divider: nothing says where its top is. Set its length, or join its top to "
        "something",
    ),
    "joint": (
        lambda d: draft.remove_joint(d, "divider_in_seat"),
        "Divider: nothing says where its top is. Set its length, or join its top to "
        "something",
    ),
    "distance": (
        lambda d: draft.remove_distance(d, "toe_space"),
        "Toe board: nothing says where it is, from front to back. Set a distance from "
        "another part, join it to one, or make a face flush",
    ),
    "flush": (
        lambda d: draft.remove_from_flush(d, 0, "shelf.front"),
        "Shelf: nothing says where its front is. Set its width, or join its front to "
        "something",
    ),
    "duplicate": (
        lambda d: draft.duplicate_part(d, "shelf", name="Upper shelf"),
        "Upper shelf: nothing says what its length is, from left to right. Set it, or "
        "join its left and its right to something",
    ),
    "part added": (
        lambda d: draft.add_part(d, name="Cleat"),
        "Cleat: nothing ties it to the rest of the piece yet. Set a distance from "
        "another part, join it to one, or make a face flush",
    ),
}


@pytest.mark.parametrize(("operation", "question"), OPENS.values(), ids=OPENS)
def test_what_opens_something_says_what(bench, operation, question):
    look = draft.look(operation(bench))

    assert question in [asked.text for asked in look.questions]
    assert look.ready is not any(asked.needed for asked in look.questions)
    assert not look.faults


def test_what_is_tied_together_is_asked_about_once(bench):
    look = draft.look(draft.remove_distance(bench, "overall_width"))
    (asked, *_) = look.questions

    assert {ref.key for ref in asked.at} >= {"right_side", "seat", "shelf"}
    assert asked.text.endswith("or join one of them to something")
    assert len([q for q in look.questions if "right_side.left" in q.faces]) == 1
